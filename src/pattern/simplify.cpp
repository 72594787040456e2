#include "pattern/simplify.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text.h"
#include "geometry/simplify.h"

namespace film::pattern {
namespace {

std::size_t nodes(const Polygon& polygon) {
  std::size_t count = polygon.outer.size();
  for (const Ring& hole : polygon.holes) count += hole.size();
  return count;
}

/// One ring under way: nodes kept, and where each stretch starts among them.
struct Thinned {
  Ring ring;
  std::vector<std::size_t> firsts;
  double worst = 0;
};

/// The chain of a ring from one vertex forward to another (all round when they are the same).
Polyline chain_between(const Ring& ring, std::size_t from, std::size_t to) {
  Polyline chain{ring[from]};
  for (std::size_t i = (from + 1) % ring.size(); i != to; i = (i + 1) % ring.size()) {
    chain.push_back(ring[i]);
  }
  chain.push_back(ring[to]);
  return chain;
}

void append_thinned(const Polyline& chain, double tolerance, std::size_t at_least,
                    Thinned& result) {
  std::vector<std::size_t> kept = simplified(chain, tolerance);
  while (kept.size() < at_least + 1 && tolerance > 1e-9) {
    kept = simplified(chain, tolerance /= 2);  // a ring of one stretch must stay a ring
  }
  for (std::size_t k = 0; k + 1 < kept.size(); ++k) {
    result.ring.push_back(chain[kept[k]]);
    for (std::size_t i = kept[k] + 1; i < kept[k + 1]; ++i) {
      result.worst =
          std::max(result.worst, distance_to_segment(chain[i], chain[kept[k]], chain[kept[k + 1]]));
    }
  }
}

Thinned thinned_ring(const Piece& piece, std::size_t ring, double tolerance) {
  std::vector<std::size_t> starts;
  for (const EdgeStretch& edge : piece.edges) {
    if (edge.ring == ring) starts.push_back(edge.first);
  }
  Thinned result;
  const std::size_t at_least = starts.size() == 1 ? 3 : starts.size() == 2 ? 2 : 1;
  for (std::size_t s = 0; s < starts.size(); ++s) {
    result.firsts.push_back(result.ring.size());
    append_thinned(
        chain_between(ring_of(piece.fold, ring), starts[s], starts[(s + 1) % starts.size()]),
        tolerance, at_least, result);
  }
  return result;
}

}  // namespace

Result<Simplified> simplify(const Piece& piece, Mm tolerance) {
  if (!(tolerance.value > 0)) {
    return fail(ErrorCode::invalid_input, "the tolerance must be more than 0 mm",
                format("piece \"{}\"", piece.id));
  }
  if (auto checked = check_edges(piece); !checked) return tl::unexpected(checked.error());
  const std::size_t ring_count = piece.fold.holes.size() + 1;
  double step = tolerance.value;
  // Thinning may let two parts of the outline touch: then thin less.
  for (int attempt = 0; attempt < 12; ++attempt, step /= 2) {
    Simplified result{piece, 0, nodes(piece.fold), 0};
    std::vector<Ring> rings;
    std::size_t edge = 0;
    for (std::size_t r = 0; r < ring_count; ++r) {
      Thinned thinned = thinned_ring(piece, r, step);
      for (const std::size_t first : thinned.firsts) result.piece.edges[edge++].first = first;
      result.worst_deviation = std::max(result.worst_deviation, thinned.worst);
      rings.push_back(std::move(thinned.ring));
    }
    auto fold = make_polygon(rings.front(), {rings.begin() + 1, rings.end()});
    if (!fold || fold->outer != rings.front()) continue;
    result.piece.fold = std::move(*fold);
    result.piece.cut = result.piece.fold;
    result.piece.slits.clear();
    result.nodes_after = nodes(result.piece.fold);
    return result;
  }
  Simplified same{piece, 0, nodes(piece.fold), nodes(piece.fold)};
  same.piece.cut = same.piece.fold;
  same.piece.slits.clear();
  return same;
}

}  // namespace film::pattern
