#pragma once

#include <span>

#include "base/units.h"
#include "cutting/profile.h"
#include "geometry/polygon.h"

namespace film::cutting {

/// Time for a head to follow a path from rest to rest: it never exceeds `speed`, gains and loses
/// at most `acceleration` along the path, and at each corner its velocity jumps by at most
/// `corner_jump`. Exact for this model: v1^2 = v0^2 + 2 a s on each segment, limits carried
/// forward and backward. Cost: O(n).
Seconds time_along(std::span<const Vec2> path, double speed, const Motion& motion);

}  // namespace film::cutting
