#pragma once

#include "geometry/vec.h"

namespace film::demo {

/// Where the wheels stand, mm.
inline constexpr double kHalfWheelbase = 1480;
inline constexpr double kTyreRadius = 374;
inline constexpr double kArchRadius = 402;

/// The painted and glazed skin of the car as a signed distance, mm, negative inside: exact zero on
/// the skin, a fair distance near it. Lower body and glasshouse are each cut out of space by a few
/// smooth faces with rounded edges, then joined. Even in y.
double body_distance(Vec3 p);

/// Distance in the side view from the nearer wheel's axle.
double from_axle(Vec3 p);

/// The left door mirror: the middle of its housing, the housing and the foot it stands on.
inline constexpr Vec3 kMirror{590, 1046, 1078};
double mirror_housing(Vec3 p);
double mirror_foot(Vec3 p);

}  // namespace film::demo
