#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "geometry/vec.h"

namespace film {

/// Distance from a point to a closed segment.
double distance_to_segment(Vec2 p, Vec2 a, Vec2 b);

/// Which points of an open chain to keep so that every left-out point lies within `tolerance` of
/// the segment that replaces it; since distance to a segment is convex, the two chains then lie
/// within `tolerance` of each other everywhere. The ends are kept. Ascending; as few as points of
/// the chain allow, or nearly so.
/// Source: H. Imai, M. Iri, "Polygonal approximations of a curve", in Computational Morphology,
/// 1988 (shortest path over shortcuts); shortcuts are found by narrowing a cone, as in Z. Zhao,
/// A. Saalfeld, "Linear-time sleeve-fitting polyline simplification", AutoCarto 13, 1997.
/// Cost: O(n s), s points in the longest shortcut.
std::vector<std::size_t> simplified(std::span<const Vec2> chain, double tolerance);

}  // namespace film
