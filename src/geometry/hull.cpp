#include "geometry/hull.h"

#include <algorithm>
#include <cstddef>

#include "geometry/predicates.h"

namespace film {

Ring convex_hull(std::span<const Vec2> points) {
  Ring sorted(points.begin(), points.end());
  std::sort(sorted.begin(), sorted.end(),
            [](Vec2 a, Vec2 b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  sorted.erase(std::unique(sorted.begin(), sorted.end()), sorted.end());
  if (sorted.size() < 3) return sorted;
  Ring hull;
  const auto extend = [&hull](Vec2 p, std::size_t keep) {
    while (hull.size() > keep && orientation(hull[hull.size() - 2], hull.back(), p) <= 0) {
      hull.pop_back();
    }
    hull.push_back(p);
  };
  for (const Vec2 p : sorted) extend(p, 1);
  const std::size_t lower = hull.size();
  for (std::size_t i = sorted.size() - 1; i-- > 0;) extend(sorted[i], lower);
  hull.pop_back();
  return hull;
}

}  // namespace film
