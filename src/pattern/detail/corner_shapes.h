#pragma once

#include "geometry/polygon.h"
#include "pattern/allowance.h"

namespace film::pattern::detail {

/// A bend of the fold line with the allowances on both sides of it. Everything is relative to the
/// point of the bend; `arriving` and `leaving` are unit directions of travel.
struct Bend {
  Vec2 arriving, leaving;
  double before = 0, after = 0;  ///< allowances, mm; both outward (> 0) or both held back (< 0)
  double turn = 0;               ///< radians, positive to the left

  [[nodiscard]] Vec2 first() const { return before * Vec2{arriving.y, -arriving.x}; }
  [[nodiscard]] Vec2 second() const { return after * Vec2{leaving.y, -leaving.x}; }
};

/// Where the two offset lines cross. Meaningless for a bend that is nearly straight.
Vec2 mitre_point(const Bend& bend);

/// The region between the ends of the two strips, from the point of the bend, counter-clockwise:
/// pointed, as far as the mitre limit allows, ...
Ring closed_corner(const Bend& bend, double mitre_limit);
/// ... or an arc (a spiral where the allowances differ).
Ring round_corner(const Bend& bend, double chord_tolerance);
/// The wedge that a notch takes out of a closed corner: its sides leave either tuck at half the
/// panel's corner angle, so that folded over they meet in the bisector.
Ring notch(const Bend& bend, double mitre_limit, double stop);

}  // namespace film::pattern::detail
