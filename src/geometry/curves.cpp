#include "geometry/curves.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "geometry/simplify.h"

namespace film {
namespace {

/// No curve is worth more chords than this; a finer tolerance is not met.
constexpr double kMostChords = 20000;

int chords(double wanted) {
  return static_cast<int>(std::clamp(std::ceil(wanted), 1.0, kMostChords));
}

/// Source: C. de Boor, "On calculating with B-splines", J. Approx. Theory 6, 1972; rational curves
/// in homogeneous coordinates.
struct Homogeneous {
  Vec2 p;
  double w = 1;
};

void flatten_between(const Spline& spline, double t0, Vec2 p0, double t1, Vec2 p1, double tolerance,
                     int depth, Polyline& chain) {
  const double middle = (t0 + t1) / 2;
  const Vec2 at = point_at(spline, middle);
  const auto near = [&](Vec2 p) { return distance_to_segment(p, p0, p1) <= tolerance; };
  const bool flat = near(at) && near(point_at(spline, std::lerp(t0, t1, 0.25))) &&
                    near(point_at(spline, std::lerp(t0, t1, 0.75)));
  if (depth == 0 || flat) {
    chain.push_back(p1);
    return;
  }
  flatten_between(spline, t0, p0, middle, at, tolerance, depth - 1, chain);
  flatten_between(spline, middle, at, t1, p1, tolerance, depth - 1, chain);
}

}  // namespace

Affine Affine::turn(double radians) {
  const double c = std::cos(radians);
  const double s = std::sin(radians);
  return {{c, s}, {-s, c}, {}};
}

EllipseArc image(const Affine& map, const EllipseArc& arc) {
  return {map(arc.centre), map.linear(arc.u), map.linear(arc.v), arc.from, arc.to};
}

void append_arc(Polyline& chain, const EllipseArc& arc, double tolerance) {
  const double radius = std::sqrt(squared_length(arc.u) + squared_length(arc.v));
  // A circle's own radius is enough, and gives fewer chords.
  const bool circle =
      std::abs(squared_length(arc.u) - squared_length(arc.v)) <= 1e-9 * squared_length(arc.u) &&
      std::abs(dot(arc.u, arc.v)) <= 1e-9 * squared_length(arc.u);
  const double reach = circle ? length(arc.u) : radius;
  const double step =
      2 * std::acos(std::clamp(1 - tolerance / std::max(reach, tolerance), 0.0, 1.0));
  const int count = chords(std::abs(arc.to - arc.from) / std::max(step, 1e-6));
  for (int i = 1; i <= count; ++i) {
    chain.push_back(arc.at(std::lerp(arc.from, arc.to, static_cast<double>(i) / count)));
  }
}

void append_cubic(Polyline& chain, Vec2 p1, Vec2 p2, Vec2 p3, double tolerance) {
  FILM_ASSERT(!chain.empty());
  const Vec2 p0 = chain.back();
  const double bend = std::max(length(p0 - 2 * p1 + p2), length(p1 - 2 * p2 + p3));
  const int count = chords(std::sqrt(0.75 * bend / tolerance));
  for (int i = 1; i < count; ++i) {
    const double t = static_cast<double>(i) / count;
    const double s = 1 - t;
    chain.push_back(s * s * s * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t * t * t * p3);
  }
  chain.push_back(p3);
}

bool is_valid(const Spline& spline) {
  const std::size_t n = spline.points.size();
  if (spline.degree < 1 || spline.degree > 25 || n < spline.degree + 1) return false;
  if (spline.knots.size() != n + spline.degree + 1) return false;
  if (!std::is_sorted(spline.knots.begin(), spline.knots.end())) return false;
  if (!(spline.knots[spline.degree] < spline.knots[n])) return false;
  if (spline.weights.empty()) return true;
  return spline.weights.size() == n &&
         std::all_of(spline.weights.begin(), spline.weights.end(), [](double w) { return w > 0; });
}

Vec2 point_at(const Spline& spline, double t) {
  const std::size_t p = spline.degree;
  const auto& knots = spline.knots;
  const auto first = knots.begin() + static_cast<std::ptrdiff_t>(p);
  const auto last = knots.begin() + static_cast<std::ptrdiff_t>(spline.points.size());
  auto span = static_cast<std::size_t>(std::upper_bound(first, last, t) - knots.begin()) - 1;
  while (span > p && knots[span] == knots[span + 1]) --span;  // t is the end of the range
  std::vector<Homogeneous> d;
  for (std::size_t j = 0; j <= p; ++j) {
    const std::size_t i = span - p + j;
    const double w = spline.weights.empty() ? 1 : spline.weights[i];
    d.push_back({w * spline.points[i], w});
  }
  for (std::size_t r = 1; r <= p; ++r) {
    for (std::size_t j = p; j >= r; --j) {
      const double low = knots[span - p + j];
      const double high = knots[span + 1 + j - r];
      const double share = high > low ? (t - low) / (high - low) : 0;
      d[j] = {(1 - share) * d[j - 1].p + share * d[j].p, std::lerp(d[j - 1].w, d[j].w, share)};
    }
  }
  return d[p].p / d[p].w;
}

Polyline flattened(const Spline& spline, double tolerance) {
  FILM_ASSERT(is_valid(spline));
  constexpr int kDeepest = 12;
  Polyline chain;
  double t0 = spline.knots[spline.degree];
  Vec2 p0 = point_at(spline, t0);
  chain.push_back(p0);
  for (std::size_t k = spline.degree; k < spline.points.size(); ++k) {
    const double t1 = spline.knots[k + 1];
    if (!(t1 > t0)) continue;
    const Vec2 p1 = point_at(spline, t1);
    // Halves first: a span that bends both ways may pass all three points near its chord.
    const double middle = (t0 + t1) / 2;
    const Vec2 at = point_at(spline, middle);
    flatten_between(spline, t0, p0, middle, at, tolerance, kDeepest, chain);
    flatten_between(spline, middle, at, t1, p1, tolerance, kDeepest, chain);
    t0 = t1;
    p0 = p1;
  }
  return chain;
}

}  // namespace film
