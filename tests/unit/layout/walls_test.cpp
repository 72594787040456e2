#include "layout/detail/search/walls.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <gtest/gtest.h>

#include "base/rng.h"

namespace film::layout::detail {
namespace {

constexpr Box kAnywhere{{-100, -100}, {100, 100}};

double beyond(const std::vector<Wall>& walls, Vec2 p) {
  double sum = 0;
  for (const Wall& wall : walls) {
    sum += wall.weight * std::max(0.0, dot(p - wall.at, wall.inward));
  }
  return sum;
}

TEST(LeastBeyond, LeavesAWallByTheShortestWay) {
  const std::vector<Wall> walls{{{3, 7}, {-1, 0}, 2, 0}};
  const Vec2 p = least_beyond(walls, kAnywhere, {1, 1}, 10, 1e-12);
  EXPECT_NEAR(p.x, 3, 1e-12);
  EXPECT_NEAR(p.y, 1, 1e-12);
}

TEST(LeastBeyond, StaysWhereNothingIsBeyond) {
  const std::vector<Wall> walls{{{3, 7}, {-1, 0}, 2, 0}};
  const Vec2 p = least_beyond(walls, kAnywhere, {4, 1}, 10, 1e-12);
  EXPECT_EQ(p.x, 4);
  EXPECT_EQ(p.y, 1);
}

/// Between two walls that face each other there is no way out of both: the heavier one decides.
TEST(LeastBeyond, LeavesTheHeavierOfTwoWalls) {
  const std::vector<Wall> walls{{{0, 0}, {1, 0}, 1, 0}, {{-1, 0}, {-1, 0}, 3, 1}};
  const std::vector<Wall> facing{{{0, 0}, {-1, 0}, 1, 0}, {{-1, 0}, {1, 0}, 3, 1}};
  EXPECT_EQ(beyond(walls, least_beyond(walls, kAnywhere, {-0.5, 0}, 10, 1e-12)), 0);
  EXPECT_NEAR(least_beyond(facing, kAnywhere, {-0.5, 0}, 10, 1e-12).x, -1, 1e-12);
}

TEST(LeastBeyond, KeepsToTheBoxAndTheRadius) {
  const std::vector<Wall> walls{{{0, 0}, {1, 0}, 1, 0}};
  EXPECT_EQ(least_beyond(walls, {{2, -5}, {9, 5}}, {6, 0}, 10, 1e-12).x, 2);
  EXPECT_EQ(least_beyond(walls, kAnywhere, {6, 0}, 3, 1e-12).x, 6);
}

/// The sum is convex, so no place of a fine grid may be better than what is found.
TEST(LeastBeyond, FindsTheLeastOfRandomWalls) {
  Rng rng(5);
  for (int round = 0; round < 300; ++round) {
    std::vector<Wall> walls;
    const std::size_t count = 1 + rng.below(7);
    for (std::size_t i = 0; i < count; ++i) {
      const double angle = rng.uniform(0, 2 * std::numbers::pi);
      walls.push_back({{rng.uniform(-4, 4), rng.uniform(-4, 4)},
                       {std::cos(angle), std::sin(angle)},
                       rng.uniform(0.1, 3),
                       i});
    }
    const Box box{{-6, -6}, {6, 6}};
    const Vec2 from{rng.uniform(-5, 5), rng.uniform(-5, 5)};
    const double found = beyond(walls, least_beyond(walls, box, from, 1000, 1e-12));
    double least = std::numeric_limits<double>::infinity();
    for (double x = -6; x <= 6; x += 0.1) {
      for (double y = -6; y <= 6; y += 0.1) least = std::min(least, beyond(walls, {x, y}));
    }
    EXPECT_LE(found, least + 1e-9);
    EXPECT_LE(found, beyond(walls, from));
  }
}

}  // namespace
}  // namespace film::layout::detail
