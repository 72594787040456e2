#include "cutting/motion.h"

#include <cmath>

#include <gtest/gtest.h>

namespace film::cutting {
namespace {

constexpr Motion kMotion{
    .cut_speed = 100, .travel_speed = 100, .acceleration = 1000, .corner_jump = 10};

double time_of(const Polyline& path) { return time_along(path, 100, kMotion).value; }

// Uniform acceleration, school physics: t = 2 sqrt(s / a) when the top speed is not reached, and
// s / v + v / a when it is.
TEST(TimeAlong, IsTheClosedFormOnAStraightLine) {
  EXPECT_NEAR(time_of({{0, 0}, {4, 0}}), 2 * std::sqrt(4.0 / 1000), 1e-12);
  EXPECT_NEAR(time_of({{0, 0}, {50, 0}}), 50.0 / 100 + 100.0 / 1000, 1e-12);
  EXPECT_EQ(time_of({{0, 0}}), 0);
  EXPECT_EQ(time_of({{1, 1}, {1, 1}}), 0);
}

TEST(TimeAlong, PointsOnAStraightLineChangeNothing) {
  Polyline path;
  for (int k = 0; k <= 200; ++k) path.push_back({0.25 * k, 0});
  EXPECT_NEAR(time_of(path), time_of({{0, 0}, {50, 0}}), 1e-9);
}

TEST(TimeAlong, ACornerSlowsTheHeadToItsJump) {
  // At a right angle the velocity changes by sqrt(2) v, so v = 10 / sqrt(2) there. Each leg:
  // accelerate to the top and brake to v.
  const double v = 10 / std::sqrt(2.0);
  const double a = 1000;
  const double top = 100;
  const double leg = top / a + (top - v) / a + (50 - (2 * top * top - v * v) / (2 * a)) / top;
  EXPECT_NEAR(time_of({{0, 0}, {50, 0}, {50, 50}}), 2 * leg, 1e-9);
}

TEST(TimeAlong, RunsTheSameBackwards) {
  Polyline path{{0, 0}, {3, 1}, {3.2, 1.1}, {9, -4}, {9, -4.5}, {2, 2}};
  const double forward = time_of(path);
  std::reverse(path.begin(), path.end());
  EXPECT_NEAR(time_of(path), forward, 1e-9);
}

}  // namespace
}  // namespace film::cutting
