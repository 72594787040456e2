// What film asks for, on the pieces of an invented vehicle: docs/algorithms/layout.md shows the
// layouts.
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include <gtest/gtest.h>

#include "layout/verify.h"
#include "support/film_realities.h"

namespace film::layout {
namespace {

constexpr std::uint64_t kPasses = 60;

Solution solved(const Problem& problem, const std::vector<PlacedPiece>& locked = {}) {
  SolveOptions options{.iteration_limit = kPasses};
  options.locked = locked;
  const auto solution = solve(problem, options, {});
  EXPECT_TRUE(solution) << solution.error().message();
  const auto broken = verify(problem, *solution, locked);
  EXPECT_TRUE(broken.empty()) << broken.front().what;
  EXPECT_EQ(solution->placements.size(), copies_in(problem));
  // No layout is shorter than the film its pieces are.
  EXPECT_GE(solution->length * problem.strip.width, area_of(problem));
  return *solution;
}

Allotment allotted(const test::StockReality& job,
                   std::uint64_t passes = AllotOptions{}.iteration_limit) {
  AllotOptions options;
  options.iteration_limit = passes;
  const auto allotment = allot(job.demands, job.stocks, job.terms, options, {});
  EXPECT_TRUE(allotment) << allotment.error().message();
  EXPECT_TRUE(allotment->left.empty());
  std::map<std::string, int> cut;
  for (const Portion& portion : allotment->portions) {
    const Stock& stock = job.stocks[portion.stock];
    EXPECT_TRUE(verify(portion.problem, portion.solution).empty()) << stock.id;
    EXPECT_LE(portion.solution.length, stock.strip.maximum_length);
    for (const PlacedPiece& piece : portion.solution.placements) {
      const Demand& demand = job.demands[portion.item_of[piece.item]];
      EXPECT_EQ(demand.film, stock.film) << demand.item.id;
      ++cut[demand.item.id];
    }
  }
  EXPECT_EQ(cut.size(), job.demands.size());
  for (const auto& [id, times] : cut) EXPECT_EQ(times, 1) << id;
  return *allotment;
}

TEST(Realities, GrainIsKeptAndFilmWithoutItMayTurn) {
  for (const PlacedPiece& piece : solved(test::grain_kept()).placements) {
    EXPECT_LT(std::abs(std::sin(piece.placement.turn)), 1e-12);
  }
  const Solution free = solved(test::grain_free());
  EXPECT_TRUE(std::any_of(free.placements.begin(), free.placements.end(), [](const PlacedPiece& p) {
    return std::abs(std::sin(p.placement.turn)) > 0.1;
  }));
}

TEST(Realities, NoPieceIsCutFromADefect) {
  const Problem problem = test::defects();
  const Solution solution = solved(problem);
  // Two of the defects lie where film is used, so this is no empty promise.
  std::size_t passed = 0;
  for (const Polygon& defect : problem.strip.defects) {
    passed += bounding_box(defect).high.x < solution.length ? 1u : 0u;
    for (const PlacedPiece& piece : solution.placements) {
      EXPECT_FALSE(interiors_meet(defect, outline_of(problem, piece)));
    }
  }
  EXPECT_GE(passed, 2u);
}

TEST(Realities, OfThreeWidthsTheCheapestIsUsed) {
  const test::StockReality job = test::three_widths();
  const Allotment chosen = allotted(job);
  for (const Stock& stock : job.stocks) {
    test::StockReality alone = job;
    alone.stocks = {stock};
    // 1 %: trials are shorter searches than the final one.
    EXPECT_LE(chosen.cost, 1.01 * allotted(alone).cost) << stock.id;
  }
}

TEST(Realities, IrregularOffcutsTakeWhatFitsAndSaveRollFilm) {
  const test::StockReality job = test::irregular_offcuts();
  const Allotment both = allotted(job);
  std::set<std::string> used;
  double from_roll = 0;
  for (const Portion& portion : both.portions) {
    used.insert(job.stocks[portion.stock].id);
    if (!job.stocks[portion.stock].offcut) from_roll += portion.solution.length;
  }
  EXPECT_TRUE(used.contains("where a hood was cut out"));
  test::StockReality roll = job;
  roll.stocks.resize(1);
  EXPECT_LT(from_roll, allotted(roll).portions.at(0).solution.length);
}

TEST(Realities, OffcutsAreLeftOnTheShelfWhenTheWholeWouldCostMore) {
  for (const double worth : {0.1, 0.5, 0.9}) {
    const test::StockReality job = test::irregular_offcuts(worth);
    test::StockReality roll = job;
    roll.stocks.resize(1);
    // 1 %: trials are shorter searches than the final one.
    EXPECT_LE(allotted(job).cost, 1.01 * allotted(roll).cost) << worth;
  }
}

TEST(Realities, LockedPiecesStayAndOthersGoRoundThem) {
  const auto [problem, locked] = test::locks();
  const Solution solution = solved(problem, locked);
  for (const PlacedPiece& piece : locked) {
    EXPECT_NE(std::find(solution.placements.begin(), solution.placements.end(), piece),
              solution.placements.end());
  }
}

TEST(Realities, ZonesLieOneAfterTheOther) {
  const Problem problem = test::groups();
  const Solution solution = solved(problem);
  std::map<std::string, std::pair<double, double>> middles;  // of each zone, least and greatest
  for (const PlacedPiece& piece : solution.placements) {
    const double x = bounding_box(outline_of(problem, piece)).centre().x;
    const auto [zone, fresh] =
        middles.try_emplace(problem.items[piece.item].group, std::pair{x, x});
    zone->second = {std::min(zone->second.first, x), std::max(zone->second.second, x)};
  }
  EXPECT_LE(middles["front"].second, middles["left"].first);
  EXPECT_LE(middles["left"].second, middles["right"].first);
}

TEST(Realities, EachFilmIsCutFromItsOwnRoll) {
  const test::StockReality job = test::several_films();
  std::set<std::string> films;
  for (const Portion& portion : allotted(job).portions)
    films.insert(job.stocks[portion.stock].film);
  EXPECT_EQ(films, (std::set<std::string>{"black", "clear", "lamp tint"}));
}

}  // namespace
}  // namespace film::layout
