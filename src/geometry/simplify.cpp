#include "geometry/simplify.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace film {
namespace {

/// Directions from a point in which a straight line passes all discs seen so far. Angles are
/// relative to the first disc, so they stay away from the seam at +-pi.
class Cone {
 public:
  Cone(Vec2 apex, double radius) : apex_(apex), radius_(radius) {}

  /// Narrows the cone by a disc; false when nothing is left of it.
  bool narrow(Vec2 centre) {
    const Vec2 to = centre - apex_;
    const double way = length(to);
    if (way <= radius_) return true;
    if (axis_ == Vec2{}) axis_ = to / way;
    const double middle = angle(to);
    const double half = std::asin(radius_ / way);
    low_ = std::max(low_, middle - half);
    high_ = std::min(high_, middle + half);
    return low_ <= high_;
  }
  [[nodiscard]] bool holds(Vec2 p) const {
    const Vec2 to = p - apex_;
    if (axis_ == Vec2{} || to == Vec2{}) return true;
    const double at = angle(to);
    return low_ <= at && at <= high_;
  }

 private:
  [[nodiscard]] double angle(Vec2 to) const { return std::atan2(cross(axis_, to), dot(axis_, to)); }

  Vec2 apex_;
  double radius_;
  Vec2 axis_;
  double low_ = -std::numbers::pi, high_ = std::numbers::pi;
};

bool fits(std::span<const Vec2> chain, std::size_t from, std::size_t to, double tolerance) {
  for (std::size_t k = from + 1; k < to; ++k) {
    if (distance_to_segment(chain[k], chain[from], chain[to]) > tolerance) return false;
  }
  return true;
}

/// Keeps [from, to] within tolerance by always splitting at the farthest point (Douglas and
/// Peucker, 1973); for the rare shortcut that a cone allowed but a turn back forbids.
void split(std::span<const Vec2> chain, std::size_t from, std::size_t to, double tolerance,
           std::vector<std::size_t>& kept) {
  double farthest = tolerance;
  std::size_t at = from;
  for (std::size_t k = from + 1; k < to; ++k) {
    const double d = distance_to_segment(chain[k], chain[from], chain[to]);
    if (d > farthest) {
      farthest = d;
      at = k;
    }
  }
  if (at != from) {
    split(chain, from, at, tolerance, kept);
    split(chain, at, to, tolerance, kept);
  } else {
    kept.push_back(to);
  }
}

}  // namespace

double distance_to_segment(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 u = b - a;
  const double square = squared_length(u);
  const double t = square > 0 ? std::clamp(dot(p - a, u) / square, 0.0, 1.0) : 0;
  return distance(p, a + t * u);
}

std::vector<std::size_t> simplified(std::span<const Vec2> chain, double tolerance) {
  const std::size_t n = chain.size();
  if (n < 2) return n == 0 ? std::vector<std::size_t>{} : std::vector<std::size_t>{0};
  // Fewest segments to each point, over shortcuts that cones allow.
  std::vector<std::size_t> segments(n, std::numeric_limits<std::size_t>::max());
  std::vector<std::size_t> from(n, 0);
  segments[0] = 0;
  for (std::size_t i = 0; i + 1 < n; ++i) {
    Cone cone(chain[i], tolerance);
    for (std::size_t j = i + 1; j < n; ++j) {
      if (cone.holds(chain[j]) && segments[i] + 1 < segments[j]) {
        segments[j] = segments[i] + 1;
        from[j] = i;
      }
      if (!cone.narrow(chain[j])) break;
    }
  }
  std::vector<std::size_t> path{n - 1};
  while (path.back() != 0) path.push_back(from[path.back()]);
  std::reverse(path.begin(), path.end());
  std::vector<std::size_t> kept{0};
  for (std::size_t k = 1; k < path.size(); ++k) {
    if (fits(chain, path[k - 1], path[k], tolerance)) {
      kept.push_back(path[k]);
    } else {
      split(chain, path[k - 1], path[k], tolerance, kept);
    }
  }
  return kept;
}

}  // namespace film
