#pragma once

#include <cmath>
#include <initializer_list>
#include <utility>
#include <vector>

namespace film::demo {

/// A smooth curve through given points: natural cubic spline, straight beyond its ends.
class Curve {
 public:
  /// Points in rising order of the first number, at least two.
  Curve(std::initializer_list<std::pair<double, double>> points);

  double operator()(double x) const;
  [[nodiscard]] double slope(double x) const;

 private:
  [[nodiscard]] std::size_t piece(double x) const;
  std::vector<double> x_, y_, bend_;  ///< bend: second derivative at the points
};

/// 0 below `low`, 1 above `high`, with continuous curvature between (either order).
inline double smooth_step(double low, double high, double x) {
  const double t = std::fmin(std::fmax((x - low) / (high - low), 0.0), 1.0);
  return t * t * t * (t * (6 * t - 15) + 10);
}

/// max(x, 0) with its corner rounded over about `r`.
inline double soft_plus(double x, double r) { return 0.5 * (x + std::sqrt(x * x + r * r)); }

/// Intersection of two bodies given by distances, the common edge rounded with radius r.
inline double round_common(double a, double b, double r) {
  const double u = std::fmax(a + r, 0.0), v = std::fmax(b + r, 0.0);
  return std::fmin(-r, std::fmax(a, b)) + std::sqrt(u * u + v * v);
}

/// Union of two bodies given by distances, the inner corner filled with radius r.
inline double round_union(double a, double b, double r) { return -round_common(-a, -b, r); }

}  // namespace film::demo
