#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "geometry/polygon.h"
#include "geometry/vec.h"

namespace film {

/// An affine map of the plane: origin and images of the unit vectors.
struct Affine {
  Vec2 x{1, 0};
  Vec2 y{0, 1};
  Vec2 origin;

  [[nodiscard]] constexpr Vec2 linear(Vec2 v) const { return v.x * x + v.y * y; }
  [[nodiscard]] constexpr Vec2 operator()(Vec2 p) const { return linear(p) + origin; }
  /// First `inner`, then this.
  [[nodiscard]] constexpr Affine after(const Affine& inner) const {
    return {linear(inner.x), linear(inner.y), (*this)(inner.origin)};
  }
  static Affine turn(double radians);

  friend bool operator==(const Affine&, const Affine&) = default;
};

/// The curve centre + cos t * u + sin t * v for t from `from` to `to`: a circle when u and v are
/// equally long and square to each other, else an ellipse. An affine image of one is another.
struct EllipseArc {
  Vec2 centre, u, v;
  double from = 0, to = 0;  ///< radians; `to` may be less than `from`

  [[nodiscard]] Vec2 at(double t) const { return centre + std::cos(t) * u + std::sin(t) * v; }
};

/// The arc seen through the map.
EllipseArc image(const Affine& map, const EllipseArc& arc);

// Each of these appends points to a chain that already ends at the curve's start; no chord lies
// further than `tolerance` from its curve, and the last point is the curve's end.

/// Chord error of a parameter step d on an ellipse: at most (1 - cos(d / 2)) times the sum of
/// squares of u and v, rooted.
void append_arc(Polyline& chain, const EllipseArc& arc, double tolerance);

/// Cubic Bezier curve. Source of the step count: G. Wang, "The subdivision method for finding the
/// intersection between two Bezier curves or surfaces", Zhejiang University Journal, 1984.
void append_cubic(Polyline& chain, Vec2 p1, Vec2 p2, Vec2 p3, double tolerance);

/// A B-spline curve, rational when weights are given.
struct Spline {
  std::size_t degree = 3;
  std::vector<double> knots;    ///< ascending, points + degree + 1 of them
  std::vector<Vec2> points;     ///< control points
  std::vector<double> weights;  ///< empty, or positive and one for each point
};

/// True when the counts fit, knots ascend with a range to draw, weights are positive.
bool is_valid(const Spline& spline);
Vec2 point_at(const Spline& spline, double t);
/// Whole curve including its start. Tolerance as far as halving the knot spans until three inner
/// points of each chord lie within it can tell.
Polyline flattened(const Spline& spline, double tolerance);

}  // namespace film
