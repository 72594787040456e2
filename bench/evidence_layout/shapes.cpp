#include "shapes.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>

#include "exchange/layout_json.h"
#include "geometry/predicates.h"
#include "host/files.h"

namespace film::bench {

layout::Problem instance(const std::string& name) {
  const auto bytes =
      host::read_file(std::string(FILM_SOURCE_DIR) + "/../shared/data/nesting/" + name + ".json");
  auto problem = bytes ? exchange::read_layout_problem(*bytes)
                       : Result<layout::Problem>(Failure(bytes.error()));
  if (!problem) {
    std::fprintf(stderr, "%s\n", problem.error().message().c_str());
    std::exit(1);
  }
  return *std::move(problem);
}

Polygon wavy_piece(Rng& rng, double size, int corners) {
  Ring ring;
  const double tall = rng.uniform(0.4, 1.0);
  const double wave = rng.uniform(0.02, 0.1);
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * std::numbers::pi * i / corners;
    const double radius = size * (1 + wave * std::cos(5 * angle));
    ring.push_back({radius * std::cos(angle), tall * radius * std::sin(angle)});
  }
  return {ring, {}};
}

layout::Problem wavy_problem(int pieces, double gap) {
  Rng rng(11);
  layout::Problem problem;
  problem.strip.width = 1524;
  problem.strip.gap = gap;
  for (int i = 0; i < pieces; ++i) {
    problem.items.push_back({std::to_string(i),
                             wavy_piece(rng, rng.uniform(40, 260), 100),
                             1,
                             {Angle{0}, Angle::from_degrees(180)}});
  }
  return problem;
}

Ring convex_hull(Ring points) {
  std::sort(points.begin(), points.end(),
            [](Vec2 a, Vec2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
  Ring hull;
  for (int side = 0; side < 2; ++side) {
    const std::size_t base = hull.size();
    for (const Vec2 p : points) {
      while (hull.size() >= base + 2 &&
             orientation(hull[hull.size() - 2], hull[hull.size() - 1], p) <= 0) {
        hull.pop_back();
      }
      hull.push_back(p);
    }
    hull.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return hull;
}

}  // namespace film::bench
