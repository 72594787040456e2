#include "pattern/simplify.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "pattern/edges.h"

namespace film::pattern {
namespace {

Ring circle(int nodes, double radius) {
  Ring ring;
  for (int i = 0; i < nodes; ++i) {
    const double angle = 2 * std::numbers::pi * i / nodes;
    ring.push_back({radius * std::cos(angle), radius * std::sin(angle)});
  }
  return ring;
}

// A chord of half angle a deviates by r (1 - cos a): a tolerance t needs at least
// pi / acos(1 - t / r) chords.
TEST(Simplify, ACircleKeepsAboutAsFewNodesAsItsChordsAllow) {
  const Piece piece = piece_from_outline("disc", *make_polygon(circle(3000, 300)));
  const auto result = simplify(piece, Mm{0.1});
  ASSERT_TRUE(result.has_value());
  const double fewest = std::numbers::pi / std::acos(1 - 0.1 / 300);
  EXPECT_LE(static_cast<double>(result->nodes_after), fewest * 1.1 + 2);
  EXPECT_LE(result->worst_deviation, 0.1);
  EXPECT_GT(result->worst_deviation, 0.05);
}

TEST(Simplify, KeepsTheEndsOfStretches) {
  Piece piece = piece_from_outline("disc", *make_polygon(circle(1000, 300)));
  piece.edges = {{"a", EdgeKind::gap, 0, 17, Mm{0}, Corner::round},
                 {"b", EdgeKind::gap, 0, 18, Mm{0}, Corner::round},
                 {"c", EdgeKind::gap, 0, 711, Mm{0}, Corner::round}};
  const auto result = simplify(piece, Mm{0.2});
  ASSERT_TRUE(result.has_value());
  ASSERT_TRUE(check_edges(result->piece).has_value());
  for (std::size_t e = 0; e < 3; ++e) {
    EXPECT_EQ(result->piece.fold.outer[result->piece.edges[e].first],
              piece.fold.outer[piece.edges[e].first]);
  }
}

TEST(Simplify, AnOutlineThinnerThanTheToleranceStaysSimple) {
  Ring ring;  // a sliver along a wave, 0.05 mm wide
  for (int i = 0; i <= 200; ++i) ring.push_back({1.0 * i, 3 * std::sin(0.1 * i)});
  for (int i = 200; i >= 0; --i) ring.push_back({1.0 * i, 3 * std::sin(0.1 * i) + 0.05});
  const Piece piece = piece_from_outline("sliver", *make_polygon(ring));
  const auto result = simplify(piece, Mm{0.5});
  ASSERT_TRUE(result.has_value());
  EXPECT_TRUE(make_polygon(result->piece.fold.outer).has_value());
}

TEST(Simplify, RefusesAToleranceThatIsNotPositive) {
  const Piece piece = piece_from_outline("disc", *make_polygon(circle(30, 300)));
  EXPECT_FALSE(simplify(piece, Mm{0}).has_value());
  EXPECT_FALSE(simplify(piece, Mm{std::nan("")}).has_value());
}

}  // namespace
}  // namespace film::pattern
