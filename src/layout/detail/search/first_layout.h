#pragma once

#include <limits>
#include <vector>

#include "layout/problem.h"
#include "layout/solution.h"

namespace film::layout::detail {

struct FirstLayout {
  std::vector<PlacedPiece> placements;  ///< those that were there, then the others
  std::vector<Unplaced> left_out;       ///< found no room before the end of the strip
};

/// A layout without overlap in one go: pieces, of high priority and large first, each go as far
/// towards the start of the strip as a raster of it allows, clear of those `there` and no middle
/// before `first_middle`. Items that fit the strip's width in none of their named turns must have
/// quantity 0. About a millisecond for a hundred pieces.
FirstLayout first_layout(const Problem& problem, const std::vector<PlacedPiece>& there,
                         double first_middle = -std::numeric_limits<double>::infinity());

}  // namespace film::layout::detail
