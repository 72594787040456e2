#pragma once

#include <span>
#include <string>

#include "base/units.h"
#include "geometry/vec.h"
#include "surface/film.h"

namespace film::surface {

/// How far a piece may be turned from "+x along the roll".
enum class Turning {
  along,   ///< not at all (or by half a turn, which is the same width)
  square,  ///< by quarter turns
  free,    ///< by any angle
};

struct ReachOptions {
  Mm roll_width = Mm::from_inches(60);
  Mm margin{0};  ///< kept free on each side of the roll for trimming
  Turning turning = Turning::along;
  Angle tolerance{0};  ///< the grain may be off by up to this
};

/// Whether a roll covers a flat piece, stretched across the roll within the film's limits.
struct Reach {
  bool fits = false;
  double stretch_needed = 1;  ///< across the roll, panel over film; 1: none
  Mm width{0};                ///< of the flat piece across the roll in the best legal turn
  Mm least_width{0};  ///< narrowest roll that would do, margins and greatest stretch included
  Angle turn{0};      ///< that turn, counter-clockwise
  Mm length{0};       ///< of roll to cut, contraction under the stretch and margins included
  std::string plan;   ///< what to do, in words
};

/// `flat` in the film frame (+x along the grain), mm, at least 3 points.
/// Cost: O(n log n): the width is that of the convex hull (rotating calipers).
Reach reach(std::span<const Vec2> flat, const FilmProperties& film, const ReachOptions& options);

}  // namespace film::surface
