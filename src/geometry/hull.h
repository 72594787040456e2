#pragma once

#include <span>

#include "geometry/polygon.h"

namespace film {

/// The convex hull of points: counter-clockwise, without corners in line, turns exact.
/// Fewer than three different points come back as they are. O(n log n).
/// Source: A. M. Andrew, "Another efficient algorithm for convex hulls in two dimensions", Inf.
/// Process. Lett. 9(5), 1979.
Ring convex_hull(std::span<const Vec2> points);

}  // namespace film
