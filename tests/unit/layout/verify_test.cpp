#include "layout/verify.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

namespace film::layout {
namespace {

Polygon box(double x, double y, double w, double h) {
  return {{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, {}};
}

Polygon frame() {
  Polygon frame = box(0, 0, 10, 10);
  frame.holes.push_back({{2, 2}, {2, 8}, {8, 8}, {8, 2}});
  return frame;
}

Problem two_squares(double gap) {
  Problem problem;
  problem.strip.width = 10;
  problem.strip.gap = gap;
  problem.items = {{"a", box(0, 0, 4, 4), 2, {Angle{0}}, ""}};
  return problem;
}

Solution at(const Problem& problem, Vec2 first, Vec2 second, double turn = 0) {
  Solution solution;
  solution.placements = {{0, 0, {turn, first}}, {0, 1, {0, second}}};
  solution.length = length_of(problem, solution.placements);
  solution.density = density_of(problem, solution.placements, solution.length);
  return solution;
}

std::vector<Rule> rules(const std::vector<Violation>& violations) {
  std::vector<Rule> out;
  for (const Violation& violation : violations) out.push_back(violation.rule);
  return out;
}

TEST(Verify, TouchingIsNotOverlap) {
  const Problem problem = two_squares(0);
  EXPECT_TRUE(verify(problem, at(problem, {0, 0}, {4, 0})).empty());
  EXPECT_TRUE(verify(problem, at(problem, {0, 0}, {4, 4})).empty());
}

TEST(Verify, TheSmallestOverlapIsSeen) {
  const Problem problem = two_squares(0);
  const double just_inside = std::nextafter(4.0, 0.0);
  EXPECT_EQ(rules(verify(problem, at(problem, {0, 0}, {just_inside, 0}))),
            std::vector{Rule::overlap});
  EXPECT_TRUE(verify(problem, at(problem, {0, 0}, {std::nextafter(4.0, 5.0), 0})).empty());
}

TEST(Verify, TwoPiecesOnTheSameSpotOverlap) {
  const Problem problem = two_squares(0);
  EXPECT_EQ(rules(verify(problem, at(problem, {1, 1}, {1, 1}))), std::vector{Rule::overlap});
}

TEST(Verify, AGapMustBeKept) {
  const Problem problem = two_squares(0.5);
  EXPECT_TRUE(verify(problem, at(problem, {0, 0}, {4.5, 0})).empty());
  EXPECT_EQ(rules(verify(problem, at(problem, {0, 0}, {4.25, 0}))), std::vector{Rule::gap});
  // Corner to corner the distance is 0.3 sqrt 2 = 0.42.
  EXPECT_EQ(rules(verify(problem, at(problem, {0, 0}, {4.3, 4.3}))), std::vector{Rule::gap});
  EXPECT_TRUE(verify(problem, at(problem, {0, 0}, {4.4, 4.4})).empty());
}

TEST(Verify, PiecesStayInsideTheStrip) {
  Problem problem = two_squares(0);
  EXPECT_EQ(rules(verify(problem, at(problem, {-1e-12, 0}, {4, 0}))), std::vector{Rule::outside});
  EXPECT_EQ(rules(verify(problem, at(problem, {0, 6.5}, {4, 0}))), std::vector{Rule::outside});
  problem.strip.margins.low = 1;
  EXPECT_EQ(rules(verify(problem, at(problem, {0, 0}, {4, 1}))), std::vector{Rule::outside});
}

TEST(Verify, DefectsStayUncovered) {
  Problem problem = two_squares(0);
  problem.strip.defects = {box(4, 0, 1, 10)};
  EXPECT_TRUE(verify(problem, at(problem, {0, 0}, {5, 0})).empty());
  EXPECT_EQ(rules(verify(problem, at(problem, {0, 0}, {4.5, 0}))), std::vector{Rule::defect});
}

TEST(Verify, TurnsAndCopiesAndLengthAreChecked) {
  const Problem problem = two_squares(0);
  EXPECT_EQ(rules(verify(problem, at(problem, {4, 0}, {4, 0}, std::numbers::pi / 2))),
            std::vector{Rule::turn});
  Solution missing = at(problem, {0, 0}, {4, 0});
  missing.placements.pop_back();
  EXPECT_EQ(rules(verify(problem, missing)), std::vector{Rule::count});
  missing.unplaced.push_back({0, 1, "left out"});
  EXPECT_EQ(rules(verify(problem, missing)), std::vector{Rule::length});
  Solution twice = at(problem, {0, 0}, {4, 0});
  twice.placements[1].copy = 0;
  EXPECT_FALSE(verify(problem, twice).empty());
}

TEST(Verify, ALockedPieceMustNotMove) {
  const Problem problem = two_squares(0);
  const std::vector<PlacedPiece> lock{{0, 1, {0, {4, 0}}}};
  EXPECT_TRUE(verify(problem, at(problem, {0, 0}, {4, 0}), lock).empty());
  EXPECT_EQ(rules(verify(problem, at(problem, {0, 0}, {5, 0}), lock)), std::vector{Rule::lock});
}

TEST(InteriorsMeet, APieceMayLieInAHole) {
  EXPECT_FALSE(interiors_meet(frame(), box(2, 2, 6, 6)));  // fills the hole exactly
  EXPECT_FALSE(interiors_meet(box(3, 3, 4, 4), frame()));
  EXPECT_TRUE(interiors_meet(frame(), box(1, 1, 8, 8)));
  EXPECT_TRUE(interiors_meet(frame(), box(-1, -1, 12, 12)));
  EXPECT_TRUE(interiors_meet(frame(), frame()));
}

TEST(InteriorsMeet, CrossingThroughCornersOnlyIsSeen) {
  // A cross whose bars meet only at corners and along edges of the other.
  const Polygon diamond{{{5, 0}, {10, 5}, {5, 10}, {0, 5}}, {}};
  const Polygon through{{{5, 0}, {6, 5}, {5, 10}, {4, 5}}, {}};
  EXPECT_TRUE(interiors_meet(diamond, through));
  const Polygon outside{{{5, 0}, {20, -5}, {10, 5}}, {}};  // shares two corners, lies outside
  EXPECT_FALSE(interiors_meet(diamond, outside));
}

TEST(DistanceBetween, MatchesPlaneGeometry) {
  EXPECT_DOUBLE_EQ(distance_between(box(0, 0, 1, 1), box(4, 5, 1, 1)), 5.0);  // 3-4-5
  EXPECT_DOUBLE_EQ(distance_between(box(0, 0, 1, 1), box(1, 0, 1, 1)), 0.0);
  EXPECT_DOUBLE_EQ(distance_between(frame(), box(4, 4, 1, 1)), 2.0);
}

}  // namespace
}  // namespace film::layout
