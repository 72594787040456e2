#pragma once

#include "geometry/vec.h"

namespace film {

/// On which side of the line a -> b the point c lies: +1 left, -1 right, 0 exactly on it. The
/// sign is exact for all finite inputs whose products neither overflow nor underflow.
/// Source: J. R. Shewchuk, "Adaptive precision floating-point arithmetic and fast robust
/// geometric predicates", Discrete Comput. Geom. 18, 1997 (error bound of stage A; the exact
/// stage sums the twelve terms of the expanded determinant instead of adapting).
int orientation(Vec2 a, Vec2 b, Vec2 c);

/// How two closed segments meet.
enum class Meeting {
  none,    ///< no common point
  touch,   ///< a common point that is an end of at least one of them
  cross,   ///< one common point inside both
  overlap  ///< on one line with a common stretch
};

/// Exact classification of the closed segments p0-p1 and q0-q1.
Meeting meet(Vec2 p0, Vec2 p1, Vec2 q0, Vec2 q1);

}  // namespace film
