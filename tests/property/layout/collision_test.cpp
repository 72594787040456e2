#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "layout/solve.h"
#include "layout/verify.h"

namespace film::layout {
namespace {

Polygon blob(Rng& rng, double size) {
  Ring ring;
  const int corners = 3 + static_cast<int>(rng.below(9));
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * std::numbers::pi * (i + rng.uniform(0.1, 0.9)) / corners;
    const double radius = size * rng.uniform(0.3, 1.0);
    ring.push_back({radius * std::cos(angle), radius * std::sin(angle)});
  }
  return {ring, {}};
}

TEST(InteriorsMeet, IsSymmetricAndSurvivesQuarterTurns) {
  Rng rng(1);
  for (int i = 0; i < 2000; ++i) {
    const Polygon a = blob(rng, 5);
    const Polygon b =
        film::apply(Placement{0, {rng.uniform(-8, 8), rng.uniform(-8, 8)}}, blob(rng, 5));
    const bool meet = interiors_meet(a, b);
    EXPECT_EQ(meet, interiors_meet(b, a));
    const Placement quarter{std::numbers::pi / 2, {}};
    EXPECT_EQ(meet, interiors_meet(film::apply(quarter, a), film::apply(quarter, b)));
    EXPECT_EQ(meet, distance_between(a, b) == 0);
  }
}

TEST(Solve, RandomJobsComeOutValid) {
  Rng rng(2);
  for (int i = 0; i < 60; ++i) {
    SCOPED_TRACE(i);
    Problem problem;
    problem.strip.width = rng.uniform(20, 50);
    problem.strip.gap = i % 2 == 0 ? 0 : rng.uniform(0.1, 2);
    problem.strip.margins = {rng.uniform(0, 1), 0, rng.uniform(0, 1), 0};
    const std::size_t kinds = 1 + rng.below(5);
    for (std::size_t k = 0; k < kinds; ++k) {
      Item item{std::to_string(k),
                blob(rng, rng.uniform(2, 9)),
                1 + static_cast<int>(rng.below(4)),
                {},
                ""};
      if (i % 3 != 0) item.turns = {Angle{0}, Angle{std::numbers::pi}};
      problem.items.push_back(std::move(item));
    }
    if (i % 4 == 0) {
      problem.strip.defects = {film::apply(Placement{0, {rng.uniform(0, 20), 10}}, blob(rng, 4))};
    }
    const auto solution = solve(problem, {.seed = rng.next(), .iteration_limit = 25}, {});
    ASSERT_TRUE(solution) << solution.error().message();
    const auto violations = verify(problem, *solution);
    EXPECT_TRUE(violations.empty()) << violations.front().what;
  }
}

}  // namespace
}  // namespace film::layout
