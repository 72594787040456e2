#include "exchange/limits_json.h"

#include <cstdint>
#include <string_view>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto tables = film::exchange::read_limits({reinterpret_cast<const char*>(data), size});
  if (!tables) return 0;
  for (const auto& row : tables->windows) {
    (void)film::glazing::judge(tables->windows, row.place, row.position, {{0.3, 0.2, 0.4}, 0.1});
  }
  return 0;
}
