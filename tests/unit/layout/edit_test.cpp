#include "layout/edit.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "layout/solve.h"

namespace film::layout {
namespace {

Polygon box(double w, double h) { return {{{0, 0}, {w, 0}, {w, h}, {0, h}}, {}}; }

/// `count` boxes of random sizes on a strip 100 wide, laid out.
struct Table {
  Problem problem;
  Solution solution;
};

Table table(int count, double gap) {
  Rng rng(3);
  Table table;
  table.problem.strip.width = 100;
  table.problem.strip.gap = gap;
  for (int i = 0; i < count; ++i) {
    table.problem.items.push_back({std::to_string(i),
                                   box(rng.uniform(5, 25), rng.uniform(5, 25)),
                                   1,
                                   {Angle{0}, Angle{std::numbers::pi}}});
  }
  table.solution = *solve(table.problem, {.iteration_limit = 60}, {});
  return table;
}

TEST(ClashesAt, WhereAPieceLiesInAValidLayoutThereIsNone) {
  const Table t = table(30, 1);
  for (std::size_t i = 0; i < t.solution.placements.size(); ++i) {
    EXPECT_TRUE(clashes_at(t.problem, t.solution.placements, i, t.solution.placements[i].placement)
                    .empty());
  }
}

TEST(ClashesAt, NamesThePieceAndTheRule) {
  Problem problem;
  problem.strip.width = 10;
  problem.strip.gap = 1;
  problem.items = {{"a", box(4, 4), 1, {Angle{0}}}, {"b", box(4, 4), 1, {Angle{0}}}};
  const std::vector<PlacedPiece> there{{0, 0, {0, {0, 0}}}, {1, 0, {0, {6, 0}}}};
  const auto rules = [&](Placement at) {
    std::vector<std::pair<Rule, std::size_t>> out;
    for (const Violation& v : clashes_at(problem, there, 1, at)) {
      out.emplace_back(v.rule, v.placements.front());
    }
    return out;
  };
  using Found = std::vector<std::pair<Rule, std::size_t>>;
  EXPECT_EQ(rules({0, {5, 0}}), Found{});
  EXPECT_EQ(rules({0, {4.5, 0}}), (Found{{Rule::gap, 1}}));
  EXPECT_EQ(rules({0, {3, 0}}), (Found{{Rule::overlap, 1}}));
  EXPECT_EQ(rules({0, {6, 7}}), (Found{{Rule::outside, 1}}));
  EXPECT_EQ(rules({1, {12, 3}}), (Found{{Rule::turn, 1}}));
}

TEST(MakeRoom, KeepsThePieceThatWasMovedAndEndsValid) {
  const Table t = table(30, 1);
  Rng rng(9);
  for (int round = 0; round < 20; ++round) {
    std::vector<PlacedPiece> pieces = t.solution.placements;
    PlacedPiece& moved = pieces[rng.below(pieces.size())];
    const Polygon& shape = t.problem.items[moved.item].shape;
    const Box size = bounding_box(shape);
    moved.placement = {
        0, {rng.uniform(0, t.solution.length - size.width()), rng.uniform(0, 100 - size.height())}};
    const std::vector<PlacedPiece> kept{moved};
    const auto room = make_room(t.problem, pieces, kept, 1, {});
    ASSERT_TRUE(room) << room.error().message();
    EXPECT_TRUE(verify(t.problem, *room, kept).empty());
    EXPECT_LT(room->length, t.solution.length + 2 * 25);
  }
}

// Boxes 10 by 10 in a row with nothing free above them: 0, 12, 24, then a wide space, then 60.
struct Row {
  Problem problem;
  std::vector<PlacedPiece> pieces;

  Row() {
    problem.strip.width = 10;
    problem.strip.gap = 1;
    for (const double x : {0.0, 12.0, 24.0, 60.0}) {
      pieces.push_back({pieces.size(), 0, {0, {x, 0}}});
      problem.items.push_back({std::to_string(pieces.size()), box(10, 10), 1, {Angle{0}}});
    }
  }
  /// Left edges after the first piece was put at x and kept there.
  std::vector<double> after_moving_first_to(double x) {
    pieces[0].placement.move.x = x;
    const std::vector<PlacedPiece> kept{pieces[0]};
    const auto room = make_room(problem, pieces, kept, 1, {});
    EXPECT_TRUE(room && verify(problem, *room, kept).empty());
    std::vector<double> out;
    for (const PlacedPiece& p : room->placements) out.push_back(p.placement.move.x);
    return out;
  }
};

void expect_near(const std::vector<double>& found, const std::vector<double>& wanted) {
  ASSERT_EQ(found.size(), wanted.size());
  for (std::size_t i = 0; i < found.size(); ++i) EXPECT_NEAR(found[i], wanted[i], 1e-5);
}

TEST(MakeRoom, PushesWhatIsInTheWayByTheLeastAndNoMore) {
  expect_near(Row().after_moving_first_to(3), {3, 14, 25, 60});
}

TEST(MakeRoom, WhatIsPushedJumpsOverADefect) {
  Row row;
  row.problem.strip.defects = {{{{35, 4}, {36, 4}, {36, 5}, {35, 5}}, {}}};
  expect_near(row.after_moving_first_to(4), {4, 15, 36, 60});
}

// The tongue lies in the mouth of the piece to its left, and both move as one.
TEST(MakeRoom, PiecesThatInterlockStayTogether) {
  Problem problem;
  problem.strip.width = 10;
  const Polygon mouth{{{0, 0}, {10, 0}, {10, 3}, {4, 3}, {4, 7}, {10, 7}, {10, 10}, {0, 10}}, {}};
  problem.items = {{"kept", box(5, 10), 1, {Angle{0}}},
                   {"mouth", mouth, 1, {Angle{0}}},
                   {"tongue", box(8, 4), 1, {Angle{0}}}};
  const std::vector<PlacedPiece> pieces{
      {0, 0, {0, {2, 0}}}, {1, 0, {0, {5, 0}}}, {2, 0, {0, {9.5, 3}}}};
  const std::vector<PlacedPiece> kept{pieces[0]};
  const auto room = make_room(problem, pieces, kept, 1, {});
  ASSERT_TRUE(room && verify(problem, *room, kept).empty());
  EXPECT_NEAR(room->placements[1].placement.move.x, 7, 1e-5);
  EXPECT_NEAR(room->placements[2].placement.move.x, 11, 1e-5);  // met half a unit of play first
}

TEST(MakeRoom, LaysPiecesThatAreMissing) {
  const Table t = table(20, 0.5);
  std::vector<PlacedPiece> pieces = t.solution.placements;
  pieces.erase(pieces.begin() + 4);
  const auto room = make_room(t.problem, pieces, {}, 1, {});
  ASSERT_TRUE(room);
  EXPECT_EQ(room->placements.size(), 20u);
  EXPECT_TRUE(verify(t.problem, *room).empty());
}

TEST(MakeRoom, PiecesThatClashThoughKeptAreAnError) {
  const Table t = table(4, 0);
  std::vector<PlacedPiece> kept{t.solution.placements[0], t.solution.placements[1]};
  kept[1].placement = kept[0].placement;
  const auto room = make_room(t.problem, t.solution.placements, kept, 1, {});
  ASSERT_FALSE(room);
  EXPECT_EQ(room.error().code, ErrorCode::conflict);
}

}  // namespace
}  // namespace film::layout
