#include "exchange/piece_json.h"

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/assert.h"

// Any bytes: an error, or pieces that are written and read back the same.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const auto pieces = film::exchange::read_pieces(bytes);
  if (!pieces) return 0;
  const auto again = film::exchange::read_pieces(film::exchange::write_pieces(*pieces));
  FILM_ASSERT(again.has_value());
  FILM_ASSERT(*again == *pieces);
  return 0;
}
