#include <cstddef>
#include <cstdint>
#include <string>

#include "base/assert.h"
#include "pattern/allowance.h"
#include "pattern/twin.h"

// Bytes become an outline on a small lattice (many equal, touching and parallel edges), an
// opening and allowances; the cut must be a valid region.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 12 || size > 400) return 0;
  const std::size_t holes_at = data[0] % 2 == 0 ? size : size * 2 / 3;
  const auto ring = [data](std::size_t from, std::size_t to) {
    film::Ring points;
    for (std::size_t i = from; i + 1 < to; i += 3) {
      points.push_back({data[i] / 4.0, data[i + 1] / 4.0});
    }
    return points;
  };
  std::vector<film::Ring> holes;
  if (holes_at < size) holes.push_back(ring(holes_at, size));
  const auto fold = film::make_polygon(ring(1, holes_at), holes);
  if (!fold) return 0;
  film::pattern::Piece piece;
  piece.id = "fuzz";
  piece.fold = *fold;
  for (std::size_t r = 0; r <= fold->holes.size(); ++r) {
    const std::size_t n = film::pattern::ring_of(*fold, r).size();
    const std::size_t step = 1 + data[1] % 3;
    for (std::size_t i = 0; i < n; i += step) {
      film::pattern::EdgeStretch edge;
      edge.name = std::to_string(r) + "." + std::to_string(i);
      edge.ring = r;
      edge.first = i;
      edge.allowance = film::Mm{(data[(i * 3 + 2) % size] - 64) / 12.0};
      edge.corner = static_cast<film::pattern::Corner>(data[(i * 5 + 3) % size] % 4);
      piece.edges.push_back(edge);
    }
  }
  film::pattern::ExtendOptions options;
  options.transition = film::Mm{data[2] / 8.0};
  const auto extended = film::pattern::extend(piece, options);
  if (!extended) return 0;
  const auto checked = film::make_polygon(extended->cut.outer, extended->cut.holes);
  FILM_ASSERT(checked.has_value());
  FILM_ASSERT(*checked == extended->cut);
  FILM_ASSERT(film::pattern::mirrored(film::pattern::mirrored(*extended)) == *extended);
  return 0;
}
