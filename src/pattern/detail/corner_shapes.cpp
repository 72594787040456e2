#include "pattern/detail/corner_shapes.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace film::pattern::detail {
namespace {

Vec2 turned(Vec2 v, double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  return {c * v.x - s * v.y, s * v.x + c * v.y};
}

Ring counter_clockwise(Ring ring) {
  if (signed_area(ring) < 0) std::reverse(ring.begin(), ring.end());
  return ring;
}

/// Steps for an arc so that no chord lies further inside it than the tolerance.
int steps(double angle, double radius, double tolerance) {
  const double share = std::clamp(1 - tolerance / radius, -1.0, 1.0);
  const double step = std::max(2 * std::acos(share), 1e-3);
  return std::max(1, static_cast<int>(std::ceil(std::abs(angle) / step - 1e-9)));
}

}  // namespace

Vec2 mitre_point(const Bend& bend) {
  // On the first offset line, as far along as the second one demands.
  const Vec2 normal{bend.leaving.y, -bend.leaving.x};
  const double ahead = (bend.after - dot(bend.first(), normal)) / dot(bend.arriving, normal);
  return bend.first() + ahead * bend.arriving;
}

Ring closed_corner(const Bend& bend, double mitre_limit) {
  const Vec2 first = bend.first();
  const Vec2 second = bend.second();
  const Vec2 point = mitre_point(bend);
  const double sign = bend.turn > 0 ? 1 : -1;
  const double reach = mitre_limit * std::max(std::abs(bend.before), std::abs(bend.after));
  const bool beyond_both = sign * bend.before * dot(point - first, bend.arriving) >= 0 &&
                           sign * bend.after * dot(second - point, bend.leaving) >= 0;
  if (!std::isfinite(point.x) || !std::isfinite(point.y) || !beyond_both) {
    return counter_clockwise({{0, 0}, first, second});
  }
  if (length(point) <= reach) return counter_clockwise({{0, 0}, first, point, second});
  // Cut off square at the reach.
  const Vec2 axis = point / length(point);
  const double along_first = (reach - dot(first, axis)) / dot(bend.arriving, axis);
  const double along_second = (reach - dot(second, axis)) / dot(bend.leaving, axis);
  if (!(dot(first, axis) < reach) || !(dot(second, axis) < reach)) {
    return counter_clockwise({{0, 0}, first, second});
  }
  return counter_clockwise({{0, 0},
                            first,
                            first + along_first * bend.arriving,
                            second + along_second * bend.leaving,
                            second});
}

Ring round_corner(const Bend& bend, double chord_tolerance) {
  const Vec2 from = bend.first();
  const double radius = std::max(std::abs(bend.before), std::abs(bend.after));
  const int count = steps(bend.turn, radius, chord_tolerance);
  Ring ring{{0, 0}, from};
  for (int i = 1; i < count; ++i) {
    const double share = static_cast<double>(i) / count;
    const double here = std::lerp(bend.before, bend.after, share);
    ring.push_back(turned((here / bend.before) * from, share * bend.turn));
  }
  ring.push_back(bend.second());
  return counter_clockwise(std::move(ring));
}

Ring notch(const Bend& bend, double mitre_limit, double stop) {
  const double half = (std::numbers::pi - bend.turn) / 2;  // of the panel's corner
  const Vec2 n1 = bend.first() / bend.before;
  const Vec2 side = std::sin(half) * n1 - std::cos(half) * bend.arriving;
  const double opening = 2 * (std::numbers::pi - 2 * half);
  const double widest = std::max(bend.before, bend.after);
  const double reach = stop + widest * std::max(mitre_limit, 1 / std::sin(half)) * 1.05;
  const Vec2 middle = turned(n1, bend.turn / 2);
  const Vec2 apex = stop * middle;
  Ring ring{apex};
  const int count = 16;
  for (int i = 0; i <= count; ++i) {
    // A little longer, so that the chords of this arc still reach past the allowance.
    ring.push_back(apex + 1.05 * reach * turned(side, opening * i / count));
  }
  return counter_clockwise(std::move(ring));
}

}  // namespace film::pattern::detail
