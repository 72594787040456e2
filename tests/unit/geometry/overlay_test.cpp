#include "geometry/overlay.h"

#include <numbers>

#include <gtest/gtest.h>

namespace film {
namespace {

Polygon square(double x, double y, double size) {
  return {{{x, y}, {x + size, y}, {x + size, y + size}, {x, y + size}}, {}};
}

TEST(Overlay, UnitesCrossingSquares) {
  const auto result = united(std::vector{square(0, 0, 10), square(5, 5, 10)});
  ASSERT_EQ(result.size(), 1u);
  EXPECT_DOUBLE_EQ(area(result[0]), 175);
  EXPECT_EQ(result[0].outer.size(), 8u);
}

TEST(Overlay, UnitesSquaresThatShareASide) {
  const auto result = united(std::vector{square(0, 0, 10), square(10, 0, 10)});
  ASSERT_EQ(result.size(), 1u);
  EXPECT_EQ(result[0].outer.size(), 4u);
  EXPECT_DOUBLE_EQ(area(result[0]), 200);
}

TEST(Overlay, PartsRegionsThatMeetInOnePoint) {
  const auto result = united(std::vector{square(0, 0, 10), square(10, 10, 10)});
  ASSERT_EQ(result.size(), 2u);
  for (const Polygon& polygon : result) EXPECT_NEAR(area(polygon), 100, 1e-4);
  EXPECT_EQ(common(result[0], result[1]).size(), 0u);
}

TEST(Overlay, AHoleThatTouchesTheOutlineIsPartedFromIt) {
  const Polygon triangle{{{5, 0}, {8, 5}, {2, 5}}, {}};
  const auto result = without(square(0, 0, 10), triangle);
  ASSERT_EQ(result.size(), 1u);
  EXPECT_TRUE(make_polygon(result[0].outer, result[0].holes).has_value());
  EXPECT_NEAR(area(result[0]), 85, 1e-3);
}

TEST(Overlay, TakesAwayAndKeepsCommon) {
  EXPECT_DOUBLE_EQ(area(common(square(0, 0, 10), square(5, 5, 10)).at(0)), 25);
  const auto holed = without(square(0, 0, 10), square(4, 4, 2));
  ASSERT_EQ(holed.size(), 1u);
  EXPECT_EQ(holed[0].holes.size(), 1u);
  EXPECT_DOUBLE_EQ(area(holed[0]), 96);
  EXPECT_TRUE(without(square(2, 2, 3), square(0, 0, 10)).empty());
}

TEST(Overlay, CountsWindingsOfACurveThatCrossesItself) {
  Overlay overlay;
  Ring star;  // pentagram: the middle is wound round twice
  for (int i = 0; i < 5; ++i) {
    const double angle = 4 * std::numbers::pi * i / 5;
    star.push_back({10 * std::cos(angle), 10 * std::sin(angle)});
  }
  overlay.add(0, star);
  const auto all = overlay.region([](const auto& w) { return w[0] > 0; });
  const auto middle = overlay.region([](const auto& w) { return w[0] > 1; });
  ASSERT_EQ(middle->size(), 1u);
  EXPECT_EQ((*middle)[0].outer.size(), 5u);
  EXPECT_EQ((*all)[0].outer.size(), 10u);
  // Inner pentagon of a unit pentagram: circumradius 1 / phi^2.
  const double phi = std::numbers::phi;
  const double inner = 10 / (phi * phi);
  EXPECT_NEAR(area((*middle)[0]), 2.5 * inner * inner * std::sin(2 * std::numbers::pi / 5), 1e-6);
}

TEST(NestedPolygons, SortsOutlinesHolesAndIslands) {
  const auto result = nested_polygons({square(4, 4, 2).outer, square(0, 0, 20).outer,
                                       square(2, 2, 8).outer, square(30, 0, 5).outer});
  ASSERT_TRUE(result.has_value());
  ASSERT_EQ(result->size(), 3u);
  EXPECT_EQ((*result)[0].holes.size(), 1u);
  EXPECT_DOUBLE_EQ(area((*result)[0]), 336);
}

TEST(NestedPolygons, RefusesLoopsThatCross) {
  EXPECT_FALSE(
      nested_polygons({square(0, 0, 10).outer, square(5, 5, 4).outer, square(-1, 4, 3).outer})
          .has_value());
}

}  // namespace
}  // namespace film
