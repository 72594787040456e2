#include "shop/price.h"

#include <gtest/gtest.h>

namespace film::shop {
namespace {

/// Round figures, so that every amount can be worked out by hand.
PriceList list() {
  PriceList list;
  list.films = {{"clear", Money{40'00}}};
  list.other_film = Money{50'00};
  list.film_markup = Rate::percent(50);
  list.hour = Money{80'00};
  list.hour_cost = Money{30'00};
  list.preparation_vehicle = 60;
  list.preparation_metre = 6;
  list.coating_metre = 10;
  list.coating_material = Money{8'00};
  list.consumables_vehicle = Money{20'00};
  list.consumables_metre = Money{1'00};
  list.material_markup = Rate::percent(25);
  list.tax = Rate::percent(19);
  list.deposit = Rate::percent(30);
  return list;
}

WorkNeed work() {
  WorkNeed work;
  FilmAmount clear;
  clear.film = "clear";
  clear.name = "Clear";
  clear.needed = 2'345'678;  // mm^2
  work.films = {clear};
  work.laying = {95, 80, 115};
  work.covered_area = 1'800'000;
  return work;
}

const PriceLine& line_of(const Price& price, PriceKind kind) {
  for (const PriceLine& line : price.lines) {
    if (line.kind == kind) return line;
  }
  ADD_FAILURE() << "no such line";
  return price.lines.front();
}

TEST(Price, IsWorkedOutAsByHand) {
  const auto price = price_of(work(), list(), {});
  ASSERT_TRUE(price);
  ASSERT_EQ(price->lines.size(), 4u);
  // 2.345678 m^2 x 40.00 = 93.82712 -> 93.83; half of it 46.915 -> 46.92; sold at 140.75.
  EXPECT_EQ(line_of(*price, PriceKind::film).cost, Money{93'83});
  EXPECT_EQ(line_of(*price, PriceKind::film).net, Money{140'75});
  // 95 min: 126.6667 -> 126.67, cost 47.50.
  EXPECT_EQ(line_of(*price, PriceKind::laying).net, Money{126'67});
  EXPECT_EQ(line_of(*price, PriceKind::laying).cost, Money{47'50});
  // 60 + 1.8 x 6 = 70.8 -> 71 min: 94.6667 -> 94.67, cost 35.50.
  EXPECT_EQ(line_of(*price, PriceKind::preparation).quantity, 71);
  EXPECT_EQ(line_of(*price, PriceKind::preparation).net, Money{94'67});
  // 20.00 + 1.80 = 21.80; a quarter 5.45; 27.25.
  EXPECT_EQ(line_of(*price, PriceKind::consumables).net, Money{27'25});
  EXPECT_EQ(price->net, Money{389'34});
  ASSERT_EQ(price->taxes.size(), 1u);
  EXPECT_EQ(price->taxes.front().tax, Money{73'97});  // 73.9746
  EXPECT_EQ(price->total, Money{463'31});
  EXPECT_EQ(price->deposit, Money{138'99});  // 138.993
  EXPECT_EQ(price->cost, Money{198'63});     // 93.83 + 47.50 + 35.50 + 21.80
  EXPECT_EQ(price->margin, Rate{489'829});   // 190.71 / 389.34 = 0.4898289...
  EXPECT_FALSE(price->thin);
}

TEST(Price, TakesADiscountLineByLine) {
  const auto price = price_of(work(), list(), {Rate{75'000}});  // 7.5 %
  ASSERT_TRUE(price);
  // 10.55625, 9.50025, 7.10025, 2.04375.
  EXPECT_EQ(line_of(*price, PriceKind::film).discount, Money{10'56});
  EXPECT_EQ(line_of(*price, PriceKind::laying).discount, Money{9'50});
  EXPECT_EQ(line_of(*price, PriceKind::preparation).discount, Money{7'10});
  EXPECT_EQ(line_of(*price, PriceKind::consumables).discount, Money{2'04});
  EXPECT_EQ(price->discount, Money{29'20});
  EXPECT_EQ(price->taxes.front().base, Money{360'14});
  EXPECT_EQ(price->taxes.front().tax, Money{68'43});  // 68.4266
  EXPECT_EQ(price->total, Money{428'57});
}

// 360.14 are left after 7.5 %: 50.00 of it are split as 130.19 : 117.17 : 87.57 : 25.21, that is
// 18.0749, 16.2673, 12.1578, 3.5000; the two cents left over go to the largest remainders.
TEST(Price, TakesAnAmountOffWhatIsLeftAndSplitsItToTheCent) {
  const auto price = price_of(work(), list(), {Rate{75'000}, Money{50'00}});
  ASSERT_TRUE(price);
  EXPECT_EQ(line_of(*price, PriceKind::film).discount, Money{10'56 + 18'07});
  EXPECT_EQ(line_of(*price, PriceKind::laying).discount, Money{9'50 + 16'27});
  EXPECT_EQ(line_of(*price, PriceKind::preparation).discount, Money{7'10 + 12'16});
  EXPECT_EQ(line_of(*price, PriceKind::consumables).discount, Money{2'04 + 3'50});
  EXPECT_EQ(price->discount, Money{79'20});
  EXPECT_EQ(price->taxes.front().base, Money{310'14});
  EXPECT_EQ(price->taxes.front().tax, Money{58'93});  // 58.9266
  EXPECT_EQ(price->total, Money{369'07});
}

TEST(Price, CoatingIsWorkAndMaterial) {
  WorkNeed coated = work();
  coated.coated_area = 1'500'000;
  const auto price = price_of(coated, list(), {});
  ASSERT_TRUE(price);
  ASSERT_EQ(price->lines.size(), 6u);
  EXPECT_EQ(line_of(*price, PriceKind::coating).quantity, 15);  // minutes
  EXPECT_EQ(line_of(*price, PriceKind::coating).net, Money{20'00});
  EXPECT_EQ(price->lines[4].net, Money{15'00});  // 12.00 and a quarter
}

TEST(Price, EachTaxRateIsTakenOnItsOwnSum) {
  std::vector<PriceLine> lines(4);
  for (PriceLine& line : lines) line.net = Money{10};
  lines[0].tax = lines[1].tax = lines[2].tax = Rate::percent(19);
  lines[3].tax = Rate::percent(7);
  const auto price = summed(lines, list());
  ASSERT_TRUE(price);
  ASSERT_EQ(price->taxes.size(), 2u);
  EXPECT_EQ(price->taxes[0].tax, Money{1});  // 7 % of 0.10: 0.7 cents
  EXPECT_EQ(price->taxes[1].tax, Money{6});  // 19 % of 0.30: 5.7 cents, not three times 2
  EXPECT_EQ(price->total, Money{47});
}

TEST(Price, WarnsWhenTooLittleIsKept) {
  PriceList dear = list();
  dear.hour_cost = Money{79'00};
  dear.film_markup = Rate{};
  EXPECT_TRUE(price_of(work(), dear, {})->thin);
  EXPECT_FALSE(price_of(work(), list(), {})->thin);
}

TEST(Price, OfNothingIsNothing) {
  const auto price = price_of({}, list(), {});
  ASSERT_TRUE(price);
  EXPECT_TRUE(price->lines.empty());
  EXPECT_EQ(price->total, Money{0});
  EXPECT_FALSE(price->thin);
}

TEST(Price, RefusesDiscountsThatAreNone) {
  EXPECT_FALSE(price_of(work(), list(), {Rate{-1}}));
  EXPECT_FALSE(price_of(work(), list(), {Rate::percent(101)}));
  EXPECT_FALSE(price_of(work(), list(), {Rate{}, Money{-1}}));
  EXPECT_FALSE(price_of(work(), list(), {Rate{}, Money{389'35}}));  // one cent more than all
  EXPECT_TRUE(price_of(work(), list(), {Rate{}, Money{389'34}}));
}

TEST(PriceList, NamesTheFieldThatIsOutOfRange) {
  EXPECT_TRUE(check(PriceList{}));
  PriceList broken;
  broken.hour = Money{-1};
  EXPECT_EQ(check(broken).error().where, "price list hour");
  broken = {};
  broken.tax = Rate::percent(101);
  EXPECT_EQ(check(broken).error().where, "price list tax");
  broken = {};
  broken.films = {{"a", Money{1}}, {"a", Money{2}}};
  EXPECT_EQ(check(broken).error().where, "price list films a");
  broken = {};
  broken.valid_days = 0;
  EXPECT_EQ(check(broken).error().where, "price list valid_days");
  broken = {};
  broken.hours.doubt = 0;
  EXPECT_EQ(check(broken).error().where, "hours doubt");
}

TEST(PriceList, FilmsWithoutAPriceHaveTheUsualOne) {
  EXPECT_EQ(cost_of(list(), "clear"), Money{40'00});
  EXPECT_EQ(cost_of(list(), "another"), Money{50'00});
}

}  // namespace
}  // namespace film::shop
