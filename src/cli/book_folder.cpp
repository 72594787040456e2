#include "cli/book_folder.h"

#include <cstdlib>

namespace film::cli {
namespace {

/// Where a program keeps its data. Source: XDG Base Directory Specification, XDG_DATA_HOME.
std::filesystem::path data_folder() {
  if (const char* base = std::getenv("XDG_DATA_HOME"); base != nullptr && *base == '/') {
    return std::filesystem::path(base) / "filmwright";
  }
  const char* home = std::getenv("HOME");
  return std::filesystem::path(home == nullptr ? "." : home) / ".local/share/filmwright";
}

}  // namespace

std::filesystem::path book_folder(const std::string& given, bool demo) {
  return given.empty() ? data_folder() / (demo ? "demo" : "shop") : std::filesystem::path(given);
}

}  // namespace film::cli
