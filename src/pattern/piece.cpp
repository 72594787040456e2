#include "pattern/piece.h"

#include <cmath>
#include <unordered_set>

#include "base/assert.h"
#include "base/text.h"

namespace film::pattern {

const Ring& ring_of(const Polygon& polygon, std::size_t ring) {
  FILM_ASSERT(ring <= polygon.holes.size());
  return ring == 0 ? polygon.outer : polygon.holes[ring - 1];
}

Result<void> check_edges(const Piece& piece) {
  const auto broken = [&piece](const std::string& what, const std::string& edge) {
    return fail(ErrorCode::invalid_input, what, format("piece \"{}\" edge \"{}\"", piece.id, edge));
  };
  std::unordered_set<std::string> names;
  std::size_t rings_seen = 0;
  for (std::size_t i = 0; i < piece.edges.size(); ++i) {
    const EdgeStretch& edge = piece.edges[i];
    if (edge.name.empty()) return broken("a stretch of the edge has no name", edge.name);
    if (!names.insert(edge.name).second) return broken("two stretches have this name", edge.name);
    if (edge.ring > piece.fold.holes.size()) return broken("there is no such ring", edge.name);
    if (edge.first >= ring_of(piece.fold, edge.ring).size()) {
      return broken("its first vertex is past the end of the ring", edge.name);
    }
    if (!std::isfinite(edge.allowance.value)) {
      return broken("its allowance is not a finite number", edge.name);
    }
    const bool new_ring = i == 0 || piece.edges[i - 1].ring != edge.ring;
    if (new_ring ? edge.ring != rings_seen : edge.first <= piece.edges[i - 1].first) {
      return broken("the stretches are not in the order of the outline", edge.name);
    }
    if (new_ring) ++rings_seen;
  }
  if (rings_seen != piece.fold.holes.size() + 1) {
    return fail(ErrorCode::invalid_input,
                format("ring {} of the outline has no edge stretch", rings_seen),
                format("piece \"{}\"", piece.id));
  }
  return {};
}

}  // namespace film::pattern
