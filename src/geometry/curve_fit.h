#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "geometry/polygon.h"
#include "geometry/vec.h"

namespace film {

/// A closed path of cubic Bezier curves, each from the end of the one before; the last ends at
/// `start`. Some are straight.
struct CurvePath {
  struct Cubic {
    Vec2 p1, p2;  ///< inner control points
    Vec2 end;
    bool straight = false;

    friend bool operator==(const Cubic&, const Cubic&) = default;
  };
  Vec2 start;
  std::vector<Cubic> cubics;

  friend bool operator==(const CurvePath&, const CurvePath&) = default;
};

/// Points of the path, none repeated; no chord lies further than `tolerance` from its curve.
Ring flattened(const CurvePath& path, double tolerance);

struct CurveFit {
  CurvePath path;
  double worst = 0;  ///< largest distance found between ring and path, both ways
};

/// A closed path near a ring of points: none of the ring's points lies further than `tolerance`
/// from the path, nor the path from the ring. The ring's points at `corners` (indices, ascending)
/// stay where they are and may be sharp; elsewhere the path turns without a corner, unless the
/// ring itself leaves no room for that. Noise smaller than the tolerance is evened out. Each curve
/// goes as far as it can, so there are few; with at least three points in the ring the path has at
/// least two cubics.
/// Source: least squares with turns of reparametrisation as in P. J. Schneider, "An algorithm for
/// automatically fitting digitized curves", Graphics Gems, 1990, but with free end tangents and
/// each run as long as halving finds. Cost: O(n log n) typical.
CurveFit fit_curves(std::span<const Vec2> ring, std::span<const std::size_t> corners,
                    double tolerance);

}  // namespace film
