#pragma once

#include <cstddef>
#include <vector>

#include "pattern/piece.h"

namespace film::pattern::detail {

/// Vertex of its ring at which stretch e ends.
std::size_t end_of(const Piece& piece, std::size_t e);

/// Stretches for a fold that was made out of the piece's own: what lies on the old fold keeps its
/// stretch, what is new becomes a stretch like `fresh`. A stretch that is there in several runs is
/// numbered, past names that are taken. Nodes in the middle of a straight line at which a stretch
/// starts are put back into the fold. Cost: O(n m), nodes of either fold.
std::vector<EdgeStretch> carried_over(const Piece& piece, Polygon& fold, const EdgeStretch& fresh);

}  // namespace film::pattern::detail
