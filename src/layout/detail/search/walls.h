#pragma once

#include <cstddef>
#include <vector>

#include "geometry/box.h"

namespace film::layout::detail {

/// A straight boundary: beyond it, along `inward`, a place is worth its weight for each unit.
struct Wall {
  Vec2 at;
  Vec2 inward;  ///< unit
  double weight = 0;
  std::size_t owner = 0;
};

/// Adds a wall in place of its owner's.
void raise_wall(std::vector<Wall>& walls, const Wall& wall);

/// The place in `box`, at most `radius` from `from`, where the sum over the walls of weight times
/// how far beyond is least; of several the one nearest to `from`. `tiny`: what counts as not
/// beyond. That sum is convex with creases along the walls, so its least value lies where two walls
/// or sides of the box cross, or at `from` or next to it on a wall. O(n^3) for n walls, with small
/// constants.
Vec2 least_beyond(const std::vector<Wall>& walls, const Box& box, Vec2 from, double radius,
                  double tiny);

}  // namespace film::layout::detail
