// Rules that film brings and packing problems of the literature lack.
#include <numbers>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "layout/solve.h"
#include "layout/verify.h"

namespace film::layout {
namespace {

Polygon box(double w, double h) { return {{{0, 0}, {w, 0}, {w, h}, {0, h}}, {}}; }

Problem boxes(int count, double width) {
  Rng rng(5);
  Problem problem;
  problem.strip.width = width;
  problem.strip.gap = 1;
  for (int i = 0; i < count; ++i) {
    problem.items.push_back({std::to_string(i),
                             box(rng.uniform(5, 25), rng.uniform(5, 25)),
                             1,
                             {Angle{0}, Angle{std::numbers::pi}}});
  }
  return problem;
}

Solution solved(const Problem& problem, std::uint64_t passes = 100) {
  const auto solution = solve(problem, {.iteration_limit = passes}, {});
  EXPECT_TRUE(solution) << solution.error().message();
  const auto violations = verify(problem, *solution);
  EXPECT_TRUE(violations.empty()) << violations.front().what;
  return *solution;
}

TEST(Grouping, GroupsLieInTurn) {
  Problem problem = boxes(30, 60);
  for (std::size_t i = 0; i < problem.items.size(); ++i) {
    problem.items[i].group = i % 3 == 0 ? "front" : i % 3 == 1 ? "left" : "right";
  }
  problem.grouping = Grouping::in_turn;
  const Solution in_turn = solved(problem);
  EXPECT_EQ(in_turn.placements.size(), 30u);
  problem.grouping = Grouping::free;
  const Solution free = solved(problem);
  Solution as_if = free;
  problem.grouping = Grouping::in_turn;
  bool told = false;  // a free layout does break the rule, and is seen to
  for (const Violation& v : verify(problem, as_if)) told = told || v.rule == Rule::group;
  EXPECT_TRUE(told);
}

TEST(Frame, NoPieceCrossesTheEndOfAFrame) {
  Problem problem = boxes(24, 60);
  problem.strip.frame = 40;
  problem.items.push_back({"long", box(50, 10), 1, {Angle{0}}});
  const Solution solution = solved(problem);
  ASSERT_EQ(solution.unplaced.size(), 1u);
  EXPECT_NE(solution.unplaced[0].reason.find("frame of 40"), std::string::npos);
  Solution crossing = solution;
  crossing.placements[0].placement.move.x = 39;
  bool told = false;
  for (const Violation& v : verify(problem, crossing)) told = told || v.rule == Rule::frame;
  EXPECT_TRUE(told);
}

/// A row is free from the start, but the third piece's middle must not lie before the second's: no
/// shorter strip may tempt it to.
TEST(Grouping, AFreeStartIsNoPlaceForALaterGroup) {
  const auto box = [](double x, double y) { return Polygon{{{0, 0}, {x, 0}, {x, y}, {0, y}}, {}}; };
  Problem problem;
  problem.strip.width = 60;
  problem.grouping = Grouping::in_turn;
  problem.items = {{"first", box(10, 40), 2, {Angle{0}}, "a"},
                   {"later", box(20, 15), 1, {Angle{0}}, "b"}};
  const auto solution = solve(problem, {.iteration_limit = 100}, {});
  ASSERT_TRUE(solution) << solution.error().message();
  EXPECT_TRUE(verify(problem, *solution).empty());
  EXPECT_NEAR(solution->length, 25, 1e-5);
}

TEST(Priority, WhatMattersMoreIsLaidWhereNotAllFits) {
  Problem problem = boxes(30, 60);
  for (std::size_t i = 0; i < problem.items.size(); i += 2) problem.items[i].priority = 1;
  problem.strip.maximum_length = 70;
  const Solution solution = solved(problem);
  std::size_t low_laid = 0;
  for (const PlacedPiece& p : solution.placements) low_laid += p.item % 2;
  double high_left = 0;
  for (const Unplaced& p : solution.unplaced) {
    EXPECT_EQ(p.reason, "does not fit in the length left");
    if (p.item % 2 == 0) high_left += area(problem.items[p.item].shape);
  }
  // What is laid fills most of the length; of the pieces that matter at most a corner is left.
  EXPECT_GT(solution.density, 0.8);
  EXPECT_LT(high_left, 0.1 * area_of(problem));
  EXPECT_FALSE(solution.unplaced.empty());
}

TEST(Offcut, PiecesStayWithinAnIrregularOutline) {
  const Polygon outline{{{10, 5}, {90, 5}, {90, 30}, {60, 30}, {60, 65}, {10, 50}}, {}};
  Problem problem = boxes(40, 60);
  problem.strip = strip_of_offcut(outline, 1);
  const Solution solution = solved(problem, 200);
  const Polygon settled = film::apply(Placement{0, {-10, -5}}, outline);
  double covered = 0;
  for (const PlacedPiece& p : solution.placements) {
    const Polygon piece = outline_of(problem, p);
    for (const Vec2 corner : piece.outer) EXPECT_NE(side_of(settled, corner), Side::outside);
    covered += area(piece);
  }
  EXPECT_GT(covered, 0.75 * area(outline));
}

TEST(Offcut, AWholeRectangleHasNoDefects) {
  EXPECT_TRUE(strip_of_offcut(box(30, 20), 0).defects.empty());
}

}  // namespace
}  // namespace film::layout
