#include "layout/detail/collision/simplify.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include "geometry/predicates.h"

namespace film::layout::detail {
namespace {

constexpr std::size_t kFewCorners = 10;

/// One way of making a ring simpler: corners `at` and perhaps the one after it give way to `to`.
struct Step {
  std::size_t ring = 0;
  std::size_t at = 0;
  bool side = false;  // two corners are replaced by `to`; otherwise one is dropped
  Vec2 to;
  double grown = std::numeric_limits<double>::infinity();  // area
};

Vec2 around(const Ring& ring, std::size_t at, std::ptrdiff_t by) {
  const auto n = static_cast<std::ptrdiff_t>(ring.size());
  return ring[static_cast<std::size_t>((static_cast<std::ptrdiff_t>(at) + by + n) % n)];
}

double off_line(Vec2 a, Vec2 b, Vec2 p) { return std::abs(cross(b - a, p - a)) / distance(a, b); }

bool meets_others(const std::vector<Ring>& rings, Vec2 a, Vec2 b) {
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 p = ring[i];
      const Vec2 q = ring[(i + 1) % ring.size()];
      if (p == a || p == b || q == a || q == b) continue;
      if (std::max(p.x, q.x) < std::min(a.x, b.x) || std::max(a.x, b.x) < std::min(p.x, q.x)) {
        continue;
      }
      if (meet(a, b, p, q) != Meeting::none) return true;
    }
  }
  return false;
}

bool holds_a_corner(const std::vector<Ring>& rings, Vec2 a, Vec2 b, Vec2 c) {
  for (const Ring& ring : rings) {
    for (const Vec2 p : ring) {
      if (p == a || p == b || p == c) continue;
      const int u = orientation(a, b, p);
      const int v = orientation(b, c, p);
      const int w = orientation(c, a, p);
      if ((u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0)) return true;
    }
  }
  return false;
}

Step corner_step(const std::vector<Ring>& rings, std::size_t ring, std::size_t at,
                 double tolerance) {
  const Vec2 a = around(rings[ring], at, -1);
  const Vec2 b = rings[ring][at];
  const Vec2 c = around(rings[ring], at, 1);
  if (orientation(a, b, c) > 0 || a == c || off_line(a, c, b) > tolerance) return {};
  return {ring, at, false, {}, std::abs(cross(b - a, c - a)) / 2};
}

Step side_step(const std::vector<Ring>& rings, std::size_t ring, std::size_t at, double tolerance) {
  const Vec2 a = around(rings[ring], at, -1);
  const Vec2 b = rings[ring][at];
  const Vec2 c = around(rings[ring], at, 1);
  const Vec2 d = around(rings[ring], at, 2);
  if (orientation(a, b, c) <= 0 || orientation(b, c, d) <= 0) return {};
  const double turn = cross(b - a, d - c);
  if (turn <= 1e-9 * distance(a, b) * distance(c, d)) return {};
  const Vec2 to = a + (cross(c - a, d - c) / turn) * (b - a);
  if (off_line(b, c, to) > tolerance) return {};
  return {ring, at, true, to, std::abs(cross(c - b, to - b)) / 2};
}

bool stays_simple(const std::vector<Ring>& rings, const Step& step) {
  const Ring& ring = rings[step.ring];
  if (!step.side) {
    const Vec2 a = around(ring, step.at, -1);
    const Vec2 c = around(ring, step.at, 1);
    return !holds_a_corner(rings, a, ring[step.at], c) && !meets_others(rings, a, c);
  }
  const Vec2 b = ring[step.at];
  const Vec2 c = around(ring, step.at, 1);
  return !holds_a_corner(rings, b, step.to, c) && !meets_others(rings, b, step.to) &&
         !meets_others(rings, step.to, c);
}

Step cheapest(const std::vector<Ring>& rings, double tolerance) {
  std::vector<Step> steps;
  for (std::size_t r = 0; r < rings.size(); ++r) {
    if (rings[r].size() <= 4) continue;
    for (std::size_t i = 0; i < rings[r].size(); ++i) {
      steps.push_back(corner_step(rings, r, i, tolerance));
      steps.push_back(side_step(rings, r, i, tolerance));
    }
  }
  std::stable_sort(steps.begin(), steps.end(),
                   [](const Step& a, const Step& b) { return a.grown < b.grown; });
  for (const Step& step : steps) {
    if (!std::isfinite(step.grown)) break;
    if (stays_simple(rings, step)) return step;
  }
  return {};
}

void take(Ring& ring, const Step& step) {
  if (step.side) ring[(step.at + 1) % ring.size()] = step.to;
  ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(step.at));
}

}  // namespace

Polygon simplified_outwards(const Polygon& polygon, double tolerance) {
  std::vector<Ring> rings{polygon.outer};
  rings.insert(rings.end(), polygon.holes.begin(), polygon.holes.end());
  std::size_t corners = 0;
  for (const Ring& ring : rings) corners += ring.size();
  while (corners > kFewCorners) {
    const Step step = cheapest(rings, tolerance);
    if (!std::isfinite(step.grown)) break;
    take(rings[step.ring], step);
    --corners;
  }
  auto simple = make_polygon(rings.front(), {rings.begin() + 1, rings.end()});
  return simple ? *std::move(simple) : polygon;
}

}  // namespace film::layout::detail
