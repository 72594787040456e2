#include "geometry/polygon.h"

#include <numbers>

#include <gtest/gtest.h>

namespace film {
namespace {

const Ring kSquare{{0, 0}, {10, 0}, {10, 10}, {0, 10}};

TEST(MakePolygon, TurnsRingsTheRightWayAndDropsRepeats) {
  const auto polygon = make_polygon({{0, 0}, {0, 10}, {0, 10}, {10, 10}, {10, 0}, {0, 0}},
                                    {{{2, 2}, {4, 2}, {4, 4}, {2, 4}}});
  ASSERT_TRUE(polygon.has_value());
  EXPECT_EQ(polygon->outer.size(), 4u);
  EXPECT_GT(signed_area(polygon->outer), 0);
  EXPECT_LT(signed_area(polygon->holes[0]), 0);
  EXPECT_DOUBLE_EQ(area(*polygon), 96);
}

TEST(MakePolygon, RefusesWhatIsNotARegion) {
  EXPECT_FALSE(make_polygon({{0, 0}, {1, 0}}));
  EXPECT_FALSE(make_polygon({{0, 0}, {1, 0}, {2, 0}}));
  EXPECT_FALSE(make_polygon({{0, 0}, {2, 2}, {2, 0}, {0, 2}}));
  EXPECT_FALSE(make_polygon({{0, 0}, {1, 0}, {0, std::numeric_limits<double>::quiet_NaN()}}));
  EXPECT_FALSE(make_polygon(kSquare, {{{20, 20}, {21, 20}, {20, 21}}}));
  EXPECT_FALSE(make_polygon(kSquare, {{{1, 1}, {9, 1}, {20, 5}}}));
  EXPECT_FALSE(make_polygon(kSquare, {{{1, 1}, {9, 1}, {5, 9}}, {{4, 2}, {6, 2}, {5, 4}}}));
}

TEST(SideOf, CountsTheBoundaryApart) {
  EXPECT_EQ(side_of(std::span(kSquare), {5, 5}), Side::inside);
  EXPECT_EQ(side_of(std::span(kSquare), {10, 5}), Side::boundary);
  EXPECT_EQ(side_of(std::span(kSquare), {11, 10}), Side::outside);
}

TEST(Apply, QuarterTurnsAreExact) {
  const Placement turn{std::numbers::pi / 2, {3, 4}};
  EXPECT_EQ(apply(turn, Vec2{1, 0}), (Vec2{3, 5}));
}

TEST(Mirrored, TwiceIsTheSame) {
  const Polygon polygon{kSquare, {{{2, 2}, {2, 4}, {4, 2}}}};
  EXPECT_EQ(mirrored(mirrored(polygon)), polygon);
  EXPECT_DOUBLE_EQ(signed_area(mirrored(polygon).outer), 100);
}

}  // namespace
}  // namespace film
