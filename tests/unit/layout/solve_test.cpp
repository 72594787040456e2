#include "layout/solve.h"

#include <cmath>
#include <limits>
#include <numbers>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "exchange/layout_json.h"
#include "host/files.h"
#include "host/thread_executor.h"
#include "layout/verify.h"

namespace film::layout {
namespace {

constexpr double kPi = std::numbers::pi;

Polygon box(double w, double h) { return {{{0, 0}, {w, 0}, {w, h}, {0, h}}, {}}; }

Polygon star(Rng& rng, double size, int corners) {
  Ring ring;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * kPi * (i + rng.uniform(0.1, 0.9)) / corners;
    const double radius = size * rng.uniform(0.4, 1.0);
    ring.push_back({radius * std::cos(angle), radius * std::sin(angle)});
  }
  return {ring, {}};
}

Problem instance(const std::string& name) {
  const auto bytes =
      host::read_file(std::string(FILM_SOURCE_DIR) + "/../shared/data/nesting/" + name + ".json");
  EXPECT_TRUE(bytes) << bytes.error().message();
  auto problem = exchange::read_layout_problem(*bytes);
  EXPECT_TRUE(problem) << problem.error().message();
  return *problem;
}

Solution solved(const Problem& problem, SolveOptions options = {},
                const Context& context = Context()) {
  if (options.iteration_limit == 0) options.iteration_limit = 200;
  const auto solution = solve(problem, options, context);
  EXPECT_TRUE(solution) << solution.error().message();
  const auto violations = verify(problem, *solution, options.locked);
  EXPECT_TRUE(violations.empty()) << violations.front().what;
  return *solution;
}

TEST(Solve, EveryBenchmarkInstanceGetsAValidLayout) {
  for (const char* name : {"albano", "blaz1", "dagli", "fu", "jakobs1", "mao", "marques", "shapes0",
                           "shapes1", "shirts", "swim"}) {
    SCOPED_TRACE(name);
    const Problem problem = instance(name);
    const Solution solution = solved(problem, {.iteration_limit = 40});
    EXPECT_EQ(solution.placements.size(), copies_in(problem));
    EXPECT_LT(solution.density, 0.93);  // no layout of these is known above 92.4 %
  }
}

TEST(Solve, SearchBeatsTheFirstLayout) {
  const Problem problem = instance("swim");
  double first = 0;
  SolveOptions options{.iteration_limit = 400};
  options.on_better = [&](const Solution& s) { first = first == 0 ? s.density : first; };
  EXPECT_GT(solved(problem, options).density, first + 0.08);
}

TEST(Solve, SameSeedAndPassesGiveTheSameLayoutForAnyThreads) {
  const Problem problem = instance("fu");
  const Solution one = solved(problem);
  host::ThreadExecutor threads(2);
  EXPECT_EQ(one, solved(problem, {}, Context({}, {}, &threads)));
  EXPECT_NE(one, solved(problem, {.seed = 2}));
}

TEST(Solve, RectanglesThatFillTheStripExactlyDoSo) {
  Problem problem;
  problem.strip.width = 4;
  problem.items = {{"slab", box(2, 4), 3, {Angle{0}}, ""}};
  EXPECT_NEAR(solved(problem).length, 6, 1e-6);
}

TEST(Solve, ADefectWithoutEndIsAnError) {
  Problem problem;
  problem.strip.width = 4;
  problem.strip.defects = {box(std::numeric_limits<double>::infinity(), 1)};
  problem.items = {{"slab", box(2, 4), 1, {Angle{0}}, ""}};
  const auto answer = solve(problem, {.iteration_limit = 1}, {});
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.error().code, ErrorCode::invalid_input);
}

TEST(Solve, APieceWiderThanTheStripIsAnAnswer) {
  Problem problem;
  problem.strip.width = 10;
  problem.items = {{"wide", box(4, 12), 1, {Angle{0}}, ""}, {"fits", box(4, 4), 1, {}, ""}};
  const Solution solution = solved(problem);
  ASSERT_EQ(solution.unplaced.size(), 1u);
  EXPECT_NE(solution.unplaced[0].reason.find("its least width is 12"), std::string::npos);
  EXPECT_EQ(solution.placements.size(), 1u);
}

TEST(Solve, AnyAngleLetsALongPieceLieAlongTheStrip) {
  Problem problem;
  problem.strip.width = 5;
  const double c = std::cos(0.3);
  const double s = std::sin(0.3);
  // A 20 x 4 bar drawn at 0.3 rad; only turned back by that does it fit.
  const Polygon bar{{{0, 0}, {20 * c, 20 * s}, {20 * c - 4 * s, 20 * s + 4 * c}, {-4 * s, 4 * c}},
                    {}};
  problem.items = {{"bar", bar, 2, {}, ""}};
  const Solution solution = solved(problem);
  EXPECT_EQ(solution.placements.size(), 2u);
  EXPECT_NEAR(solution.length, 40, 0.3);
}

TEST(Solve, PiecesGoIntoHoles) {
  Problem problem;
  problem.strip.width = 10;
  Polygon frame = box(10, 10);
  frame.holes.push_back({{1, 1}, {1, 9}, {9, 9}, {9, 1}});
  problem.items = {{"frame", frame, 1, {Angle{0}}, ""}, {"inner", box(7, 7), 1, {Angle{0}}, ""}};
  EXPECT_NEAR(solved(problem, {.iteration_limit = 2000}).length, 10, 1e-6);
}

TEST(Solve, GapsMarginsAndDefectsAreKept) {
  Rng rng(7);
  Problem problem;
  problem.strip.width = 30;
  problem.strip.gap = 0.7;
  problem.strip.margins = {1, 2, 0.5, 1.5};
  problem.strip.defects = {{{{8, 0}, {11, 2}, {9, 14}}, {}}};
  for (int i = 0; i < 12; ++i) {
    problem.items.push_back({std::to_string(i), star(rng, 5, 9), 1, {Angle{0}, Angle{kPi}}, ""});
  }
  const Solution solution = solved(problem);
  EXPECT_EQ(solution.placements.size(), 12u);
}

TEST(Solve, LockedPiecesStay) {
  Problem problem;
  problem.strip.width = 10;
  problem.items = {{"a", box(4, 4), 5, {Angle{0}}, ""}};
  SolveOptions options;
  options.locked = {{0, 3, {0, {9, 3}}}};
  const Solution solution = solved(problem, options);
  EXPECT_EQ(solution.placements[3], options.locked[0]);
  EXPECT_EQ(solution.placements.size(), 5u);
}

TEST(Solve, LocksThatClashAreAConflict) {
  Problem problem;
  problem.strip.width = 10;
  problem.items = {{"a", box(4, 4), 2, {Angle{0}}, ""}};
  SolveOptions options;
  options.locked = {{0, 0, {0, {0, 0}}}, {0, 1, {0, {3, 0}}}};
  const auto solution = solve(problem, options, {});
  ASSERT_FALSE(solution);
  EXPECT_EQ(solution.error().code, ErrorCode::conflict);
}

TEST(Solve, WhatDoesNotFitTheLengthIsNamed) {
  Problem problem;
  problem.strip.width = 4;
  problem.strip.maximum_length = 9;
  problem.items = {{"a", box(4, 4), 3, {Angle{0}}, ""}};
  const Solution solution = solved(problem);
  EXPECT_EQ(solution.placements.size(), 2u);
  ASSERT_EQ(solution.unplaced.size(), 1u);
  EXPECT_EQ(solution.unplaced[0].reason, "does not fit in the length left");
}

TEST(Solve, AnEditedLayoutIsMended) {
  const Problem problem = instance("fu");
  SolveOptions options{.iteration_limit = 600};
  const Solution good = solved(problem, options);
  options.start = good.placements;
  options.start[3].placement.move.x -= 2;  // pushed into its neighbour
  const Solution mended = solved(problem, options);
  EXPECT_LE(mended.length, good.length * 1.02);
}

/// The layout to be mended has its locked piece as the first layout has it: one pose, known before
/// the search begins.
TEST(Solve, AnEditedLayoutIsMendedRoundALockedPiece) {
  const Problem problem = instance("fu");
  SolveOptions options{.iteration_limit = 600};
  const Solution good = solved(problem, options);
  options.start = good.placements;
  options.start[3].placement.move.x -= 2;
  options.locked = {good.placements[0]};
  const Solution mended = solved(problem, options);
  EXPECT_LE(mended.length, good.length * 1.02);
}

TEST(Solve, AStoppedSearchStillHasALayout) {
  const Problem problem = instance("shirts");
  const Solution solution = solved(problem, {}, Context([] { return true; }));
  EXPECT_EQ(solution.placements.size(), 99u);
  EXPECT_EQ(solution.iterations, 0u);
}

TEST(Solve, NothingToLayIsAnEmptyLayout) {
  Problem problem;
  problem.strip.width = 10;
  const Solution solution = solved(problem);
  EXPECT_EQ(solution.length, 0);
}

TEST(Solve, ThousandsOfPiecesGetALayout) {
  Rng rng(3);
  Problem problem;
  problem.strip.width = 1500;
  for (int i = 0; i < 100; ++i) {
    problem.items.push_back(
        {std::to_string(i), star(rng, rng.uniform(20, 90), 12), 50, {Angle{0}, Angle{kPi}}, ""});
  }
  const Solution solution = solved(problem, {.iteration_limit = 1});
  EXPECT_EQ(solution.placements.size(), 5000u);
}

TEST(Solve, MeaninglessProblemsAreRefused) {
  Problem problem;
  EXPECT_EQ(solve(problem, {}, {}).error().code, ErrorCode::invalid_input);
  problem.strip.width = 10;
  problem.items = {{"flat", {{{0, 0}, {1, 0}, {2, 0}}, {}}, 1, {}, ""}};
  EXPECT_EQ(solve(problem, {}, {}).error().where, "item flat");
  problem.items = {{"a", box(1, 1), 1, {}, ""}, {"a", box(1, 1), 1, {}, ""}};
  EXPECT_EQ(solve(problem, {}, {}).error().code, ErrorCode::invalid_input);
}

TEST(LeastWidth, OfATurnedBarIsItsThickness) {
  const Polygon bar = film::apply(Placement{0.7, {3, 4}}, box(20, 4));
  EXPECT_NEAR(least_width({"bar", bar, 1, {}, ""}), 4, 1e-12);
  EXPECT_NEAR(least_width({"bar", box(20, 4), 1, {Angle{0}, Angle{kPi / 2}}, ""}), 4, 1e-12);
  EXPECT_NEAR(least_width({"bar", box(20, 4), 1, {Angle{kPi / 2}}, ""}), 20, 1e-12);
}

}  // namespace
}  // namespace film::layout
