#pragma once

#include "geometry/polygon.h"

namespace film::layout::detail {

/// A region with fewer corners that covers the given one: reflex corners are filled, short sides
/// between convex corners are replaced by the continuation of their neighbours (and the reverse
/// for holes), cheapest in area first, while no point of the new boundary is farther than
/// `tolerance` from the old one and the rings stay simple. Regions of few corners are returned
/// as they are. O(n^2) a corner removed.
Polygon simplified_outwards(const Polygon& polygon, double tolerance);

}  // namespace film::layout::detail
