#include "cutting/motion.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace film::cutting {
namespace {

/// Time over a length s that is entered at v0, left at v1 and never faster than top.
double time_over(double s, double v0, double v1, double top, double a) {
  const double peak = std::min(top, std::sqrt((2 * a * s + v0 * v0 + v1 * v1) / 2));
  const double ramps = (2 * peak * peak - v0 * v0 - v1 * v1) / (2 * a);
  const double cruise = std::max(0.0, s - ramps);
  return (2 * peak - v0 - v1) / a + (peak > 0 ? cruise / peak : 0);
}

}  // namespace

Seconds time_along(std::span<const Vec2> path, double speed, const Motion& motion) {
  std::vector<double> lengths;
  std::vector<double> limits{0};  // speed at each node: rest at both ends
  Vec2 before{};
  for (std::size_t i = 1; i < path.size(); ++i) {
    const double s = distance(path[i - 1], path[i]);
    if (s <= 0) continue;
    const Vec2 direction = (path[i] - path[i - 1]) / s;
    if (!lengths.empty()) {
      const double turn = length(direction - before);  // velocity change for unit speed
      limits.push_back(turn > 0 ? std::min(speed, motion.corner_jump / turn) : speed);
    }
    lengths.push_back(s);
    before = direction;
  }
  if (lengths.empty()) return {0};
  limits.push_back(0);
  const double a = motion.acceleration;
  for (std::size_t i = 0; i < lengths.size(); ++i) {
    limits[i + 1] = std::min(limits[i + 1], std::sqrt(limits[i] * limits[i] + 2 * a * lengths[i]));
  }
  for (std::size_t i = lengths.size(); i-- > 0;) {
    limits[i] = std::min(limits[i], std::sqrt(limits[i + 1] * limits[i + 1] + 2 * a * lengths[i]));
  }
  double time = 0;
  for (std::size_t i = 0; i < lengths.size(); ++i) {
    time += time_over(lengths[i], limits[i], limits[i + 1], speed, a);
  }
  return {time};
}

}  // namespace film::cutting
