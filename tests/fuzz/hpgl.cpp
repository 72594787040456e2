#include "formats/hpgl.h"

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/assert.h"

// Whatever the bytes: an answer or an error; and what was read is written and read back the same.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace film::formats;
  const auto plot = read_hpgl({reinterpret_cast<const char*>(data), size});
  if (!plot) return 0;
  HpglWriter writer(HpglCoordinates::encoded);
  std::size_t points = 0;
  for (const HpglStroke& stroke : plot->strokes) {
    writer.move(stroke.points.front());
    if (stroke.down) {
      for (const HpglPoint p : stroke.points) writer.draw(p);
      points += stroke.points.size();
    }
  }
  const auto again = read_hpgl(writer.bytes());
  FILM_ASSERT(again.has_value());
  std::size_t read_back = 0;
  for (const HpglStroke& stroke : again->strokes) {
    if (stroke.down) read_back += stroke.points.size() - 1;
  }
  FILM_ASSERT(read_back == points);
  return 0;
}
