#pragma once

#include <vector>

#include "layout/problem.h"
#include "layout/solution.h"

namespace film::layout::detail {

/// A valid layout at once: the pieces, largest first, each at the lowest x where its cells are
/// free on a raster of the strip. A piece's cells cover all that lies within half the gap of it,
/// so free cells mean a kept gap. Places `locked` as given and the rest of the copies around it.
/// Every item must name its turns and fit the strip in one of them. Cost: O(pieces x columns) in
/// practice; 5,000 pieces in under a second.
std::vector<PlacedPiece> first_layout(const Problem& problem,
                                      const std::vector<PlacedPiece>& locked);

}  // namespace film::layout::detail
