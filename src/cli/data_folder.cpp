#include "cli/data_folder.h"

#include <cstdlib>

namespace film::cli {

std::filesystem::path data_folder() {
  if (const char* base = std::getenv("XDG_DATA_HOME"); base != nullptr && *base == '/') {
    return std::filesystem::path(base) / "filmwright";
  }
  const char* home = std::getenv("HOME");
  return std::filesystem::path(home == nullptr ? "." : home) / ".local/share/filmwright";
}

}  // namespace film::cli
