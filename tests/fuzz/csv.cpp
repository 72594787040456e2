// Any bytes are read or refused, and what was read is written so that it is read the same.

#include "formats/csv.h"

#include <cstdint>
#include <cstdlib>
#include <string_view>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const auto rows =
      film::formats::read_csv(std::string_view(reinterpret_cast<const char*>(bytes), size));
  if (!rows) return 0;
  std::vector<std::vector<std::string>> cells;
  for (const auto& row : *rows) cells.push_back(row.cells);
  const auto again = film::formats::read_csv(film::formats::write_csv(cells));
  if (!again || again->size() != rows->size()) std::abort();
  for (std::size_t i = 0; i < rows->size(); ++i) {
    if ((*again)[i].cells != (*rows)[i].cells) std::abort();
  }
  return 0;
}
