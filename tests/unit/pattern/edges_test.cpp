#include "pattern/edges.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

namespace film::pattern {
namespace {

/// A rectangle with corners rounded by `radius`, nodes every `step` mm.
Ring rounded(double width, double height, double radius, double step) {
  Ring ring;
  const Vec2 centres[] = {{width - radius, radius},
                          {width - radius, height - radius},
                          {radius, height - radius},
                          {radius, radius}};
  for (int c = 0; c < 4; ++c) {
    for (int i = 0; i <= 8; ++i) {
      const double angle = std::numbers::pi / 2 * (c - 1 + i / 8.0);
      ring.push_back(centres[c] + radius * Vec2{std::cos(angle), std::sin(angle)});
    }
    const Vec2 from = ring.back();
    const double angle = std::numbers::pi / 2 * c;
    const Vec2 to = centres[(c + 1) % 4] + radius * Vec2{std::cos(angle), std::sin(angle)};
    for (double s = step; s < distance(from, to) - 1e-6; s += step) {
      ring.push_back(from + (s / distance(from, to)) * (to - from));
    }
  }
  return ring;
}

TEST(Corners, AreFoundOnARectangle) {
  EXPECT_EQ(corners(Ring{{0, 0}, {50, 0}, {100, 0}, {100, 50}, {0, 50}}),
            (std::vector<std::size_t>{0, 2, 3, 4}));
}

TEST(Corners, SmallRoundingsCountAndLargeOnesDoNot) {
  EXPECT_EQ(corners(rounded(200, 100, 3, 4)).size(), 4u);
  EXPECT_EQ(corners(rounded(200, 100, 40, 4)).size(), 1u);
}

TEST(Divide, NamesOutlineAndOpenings) {
  const Polygon fold = *make_polygon({{0, 0}, {200, 0}, {200, 100}, {0, 100}},
                                     {{{50, 50}, {90, 50}, {90, 80}, {50, 80}}});
  const auto edges = divide(fold);
  ASSERT_EQ(edges.size(), 8u);
  EXPECT_EQ(edges[0].name, "edge 1");
  EXPECT_EQ(edges[4].name, "opening 1");
  EXPECT_EQ(edges[4].kind, EdgeKind::cutout);
  EXPECT_TRUE(check_edges(piece_from_outline("plate", fold)).has_value());
}

TEST(CheckEdges, NamesTheStretchThatIsWrong) {
  Piece piece = piece_from_outline("plate", *make_polygon({{0, 0}, {200, 0}, {200, 100}}));
  piece.edges[1].name = piece.edges[0].name;
  EXPECT_FALSE(check_edges(piece).has_value());
  piece.edges[1].name = "other";
  EXPECT_TRUE(check_edges(piece).has_value());
  piece.edges[1].first = 99;
  EXPECT_FALSE(check_edges(piece).has_value());
  piece.edges.clear();
  EXPECT_FALSE(check_edges(piece).has_value());
}

}  // namespace
}  // namespace film::pattern
