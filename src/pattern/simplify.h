#pragma once

#include "base/result.h"
#include "pattern/piece.h"

namespace film::pattern {

struct Simplified {
  Piece piece;
  double worst_deviation = 0;  ///< largest distance between old and new outline, mm, both ways
  std::size_t nodes_before = 0;
  std::size_t nodes_after = 0;
};

/// Fewer nodes on the fold line: no old node lies further than `tolerance` from the new line, nor
/// the new line from the old one. The ends of edge stretches stay where they are; new nodes are
/// old nodes. The outline stays simple. `cut` becomes the new fold and slits go: call `extend`
/// afterwards. Errors: invalid_input (tolerance not positive, broken edges).
/// Cost: O(n log n) typical.
Result<Simplified> simplify(const Piece& piece, Mm tolerance);

}  // namespace film::pattern
