#include "shapes.h"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>

#include "exchange/layout_json.h"
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

}  // namespace film::bench
