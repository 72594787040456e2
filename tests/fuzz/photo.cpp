#include "formats/photo.h"

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/assert.h"
#include "digitise/digitise.h"

// Any bytes: an error, or a picture that the digitiser answers, and whose outlines are regions.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto photo = film::formats::read_photo({reinterpret_cast<const char*>(data), size});
  if (!photo) return 0;
  FILM_ASSERT(photo->values.size() ==
              static_cast<std::size_t>(photo->width) * static_cast<std::size_t>(photo->height));
  if (photo->values.size() > 4'000'000) return 0;  // time
  film::digitise::Options options;
  options.long_check = film::Mm{240};
  const auto traced = film::digitise::digitise(*photo, options);
  if (!traced) return 0;
  for (const auto& outline : traced->outlines) {
    FILM_ASSERT(film::make_polygon(outline.polygon.outer, outline.polygon.holes).has_value());
  }
  return 0;
}
