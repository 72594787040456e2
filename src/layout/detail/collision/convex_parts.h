#pragma once

#include <vector>

#include "geometry/polygon.h"

namespace film::layout::detail {

/// Cuts a region into convex rings (counter-clockwise, no three points in line) that cover it and
/// whose insides do not meet. Every corner is a corner of the region, so nothing is rounded.
/// Ear clipping with holes bridged in, then neighbouring triangles are joined while the result
/// stays convex (S. Hertel, K. Mehlhorn, "Fast triangulation of simple polygons", 1983: at most
/// four times the least number of parts). O(n^2) typical, O(n^3) worst.
std::vector<Ring> convex_parts(const Polygon& polygon);

}  // namespace film::layout::detail
