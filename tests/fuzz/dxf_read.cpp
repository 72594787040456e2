#include "formats/dxf_read.h"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/assert.h"

// Any bytes: an answer or an error, every loop finite and with area.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  film::formats::DrawingOptions options;
  options.mm_per_unit = 1;
  options.most_points = 20000;
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const auto drawn = film::formats::read_dxf(bytes, options);
  if (!drawn) return 0;
  for (const auto& loop : drawn->loops) {
    FILM_ASSERT(loop.points.size() >= 3);
    for (const film::Vec2 p : loop.points) FILM_ASSERT(std::isfinite(p.x) && std::isfinite(p.y));
  }
  return 0;
}
