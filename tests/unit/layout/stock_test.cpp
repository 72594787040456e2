#include "layout/stock.h"

#include <map>
#include <numbers>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "layout/verify.h"

namespace film::layout {
namespace {

Polygon box(double w, double h) { return {{{0, 0}, {w, 0}, {w, h}, {0, h}}, {}}; }

Stock roll(const std::string& id, double width, double length) {
  Stock stock{id, "clear", {}, false, 1};
  stock.strip.width = width;
  stock.strip.maximum_length = length;
  return stock;
}

Stock offcut(const std::string& id, const Polygon& outline) {
  return {id, "clear", strip_of_offcut(outline, 0), true, 1};
}

Demand piece(const std::string& id, double w, double h, int quantity = 1) {
  return {{id, box(w, h), quantity, {Angle{0}, Angle{std::numbers::pi}}}, "clear"};
}

/// Every portion is valid, of the right film, and every copy is cut once or left.
Allotment checked(const std::vector<Demand>& demands, const std::vector<Stock>& stocks,
                  const Terms& terms = {.least_rest = 20}, const AllotOptions& options = {}) {
  const auto allotment = allot(demands, stocks, terms, options, {});
  EXPECT_TRUE(allotment) << allotment.error().message();
  std::map<std::size_t, int> count;
  for (const Portion& portion : allotment->portions) {
    EXPECT_TRUE(verify(portion.problem, portion.solution).empty());
    EXPECT_LE(portion.solution.length, stocks[portion.stock].strip.maximum_length);
    EXPECT_EQ(portion.solution.placements.size(), copies_in(portion.problem));
    for (std::size_t i = 0; i < portion.item_of.size(); ++i) {
      EXPECT_EQ(demands[portion.item_of[i]].film, stocks[portion.stock].film);
      count[portion.item_of[i]] += portion.problem.items[i].quantity;
    }
  }
  for (const Left& left : allotment->left) count[left.demand] += left.copies;
  for (std::size_t d = 0; d < demands.size(); ++d) {
    EXPECT_EQ(count[d], demands[d].item.quantity) << demands[d].item.id;
  }
  return *allotment;
}

TEST(Allot, TheWidthThatWastesLeastIsChosen) {
  // Two rows of 50 fill a roll of 101; one of 122 has 22 to spare, three rows leave 8 of 158.
  const auto allotment =
      checked({piece("a", 30, 50, 6)},
              {roll("158", 158, 1500), roll("122", 122, 1500), roll("101", 101, 1500)});
  ASSERT_EQ(allotment.portions.size(), 1u);
  EXPECT_EQ(allotment.portions[0].stock, 2u);
  EXPECT_NEAR(allotment.cost, 90 * 101, 10);
}

TEST(Allot, AnOffcutThatFitsIsUsedFirst) {
  const auto allotment = checked(
      {piece("a", 30, 40, 1), piece("b", 90, 90, 1)},
      {roll("roll", 100, 1500), offcut("small", box(35, 42)), offcut("large", box(80, 80))});
  ASSERT_EQ(allotment.portions.size(), 2u);
  EXPECT_EQ(allotment.portions[0].stock, 1u);
  EXPECT_EQ(allotment.portions[0].problem.items[0].id, "a");
  EXPECT_EQ(allotment.portions[1].stock, 0u);
}

TEST(Allot, AnOffcutStaysOnTheShelfWhenTheTroubleIsDearer) {
  const auto allotment =
      checked({piece("a", 30, 40, 1)}, {roll("roll", 100, 1500), offcut("small", box(35, 42))},
              {.handling = 5000, .least_rest = 20});
  ASSERT_EQ(allotment.portions.size(), 1u);
  EXPECT_EQ(allotment.portions[0].stock, 0u);
}

TEST(Allot, WhatIsLeftOfARollIsNotExceeded) {
  const auto allotment =
      checked({piece("a", 45, 45, 12)}, {roll("short", 100, 100), roll("long", 100, 400)});
  EXPECT_TRUE(allotment.left.empty());
  const auto both =
      checked({piece("a", 45, 45, 12)}, {roll("one", 100, 190), roll("two", 100, 190)});
  EXPECT_EQ(both.portions.size(), 2u);
  EXPECT_TRUE(both.left.empty());
}

TEST(Allot, WhatFitsNothingIsLeftWithTheReason) {
  const auto allotment =
      checked({piece("wide", 40, 130), piece("ok", 40, 40)}, {roll("roll", 100, 1500)});
  ASSERT_EQ(allotment.left.size(), 1u);
  EXPECT_EQ(allotment.left[0].demand, 0u);
  EXPECT_NE(allotment.left[0].reason.find("its least width is 130"), std::string::npos);
  Demand other = piece("matte", 10, 10);
  other.film = "matte";
  const auto none = checked({other}, {roll("roll", 100, 1500)});
  ASSERT_EQ(none.left.size(), 1u);
  EXPECT_EQ(none.left[0].reason, "there is no film of this kind");
}

TEST(Allot, FilmsAreKeptApart) {
  Demand matte = piece("matte", 30, 30, 3);
  matte.film = "matte";
  Stock second = roll("matte roll", 100, 500);
  second.film = "matte";
  const auto allotment =
      checked({piece("clear", 30, 30, 3), matte}, {roll("clear roll", 100, 500), second});
  EXPECT_EQ(allotment.portions.size(), 2u);
}

TEST(Allot, AGroupIsCutFromOneRoll) {
  std::vector<Demand> demands;
  for (int g = 0; g < 3; ++g) {
    for (int i = 0; i < 4; ++i) {
      Demand demand = piece(std::to_string(4 * g + i), 45, 45);
      demand.item.group = std::to_string(g);
      demands.push_back(demand);
    }
  }
  const std::vector<Stock> stocks{roll("one", 100, 140), roll("two", 100, 190)};
  AllotOptions options;
  options.grouping = Grouping::in_turn;
  const auto allotment = checked(demands, stocks, {.least_rest = 20}, options);
  std::map<std::string, std::size_t> at;
  for (const Portion& portion : allotment.portions) {
    for (const Item& item : portion.problem.items) {
      EXPECT_EQ(at.try_emplace(item.group, portion.stock).first->second, portion.stock);
    }
  }
  EXPECT_EQ(at.size(), 3u);
}

TEST(Allot, MeaninglessStockIsRefused) {
  EXPECT_FALSE(allot({}, {roll("a", 10, 10), roll("a", 10, 10)}, {}, {}, {}));
  EXPECT_FALSE(allot({}, {}, {.usual_use = 0}, {}, {}));
}

}  // namespace
}  // namespace film::layout
