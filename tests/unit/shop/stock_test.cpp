#include <cmath>
#include <limits>
#include <numbers>

#include <gtest/gtest.h>

#include "shop/day.h"
#include "shop/offcut.h"
#include "shop/roll_measure.h"
#include "shop/stock_ledger.h"
#include "shop/supply.h"

namespace film::shop {
namespace {

using std::numbers::pi;

Roll roll() {
  return {"R-1", "clear", "L7", Mm::from_inches(60), Mm{15000}, Mm{9000}, "2028-02-29", "rack"};
}

TEST(StockLedger, AStockIsNeverNegative) {
  const auto left = [](Mm length) { return after(roll(), *cut(roll(), length, "J"))->remaining; };
  EXPECT_EQ(left(Mm{9000}), Mm{0});
  EXPECT_EQ(cut(roll(), Mm{9000.001}, "J").error().code, ErrorCode::conflict);
  EXPECT_EQ(write_off(roll(), Mm{9001}, "lost").error().code, ErrorCode::conflict);
  for (const double wrong : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN(), 1e300}) {
    EXPECT_EQ(cut(roll(), Mm{wrong}, "J").error().code, ErrorCode::invalid_input);
    EXPECT_EQ(give_back(roll(), Mm{wrong}, "J").error().code, ErrorCode::invalid_input);
  }
  EXPECT_EQ(count(roll(), Mm{-1}, "tape").error().code, ErrorCode::invalid_input);
}

TEST(StockLedger, ALineThatNoVerbMakesIsRefused) {
  StockLine line = *cut(roll(), Mm{100}, "J");
  line.change = Mm{-9001};
  EXPECT_EQ(after(roll(), line).error().code, ErrorCode::conflict);
  line.change = Mm{100};  // a cut does not add film
  EXPECT_EQ(after(roll(), line).error().code, ErrorCode::invalid_input);
  line = *cut(roll(), Mm{100}, "J");
  line.roll = "R-2";
  EXPECT_EQ(after(roll(), line).error().code, ErrorCode::invalid_input);
}

TEST(StockLedger, ARollIsNeverLongerThanItCame) {
  EXPECT_EQ(after(roll(), *give_back(roll(), Mm{6000}, "J"))->remaining, Mm{15000});
  EXPECT_EQ(give_back(roll(), Mm{6001}, "J").error().code, ErrorCode::conflict);
  EXPECT_EQ(count(roll(), Mm{15001}, "tape").error().code, ErrorCode::conflict);
}

TEST(StockLedger, ALossAndACountNeedAReason) {
  EXPECT_FALSE(write_off(roll(), Mm{10}, ""));
  EXPECT_FALSE(count(roll(), Mm{8500}, ""));
  EXPECT_EQ(count(roll(), Mm{8500}, "tape")->change, Mm{-500});
}

// L = pi (D^2 - d^2) / (4 t), by hand: D = 160, d = 80, t = 0.25 mm gives pi * 19200.
TEST(RollMeasure, TheRollFormulaAgreesWithItsClosedForm) {
  const auto length = length_by_diameter({{160, 0}, {80, 0}, {0.25, 0}});
  EXPECT_NEAR(length->value, 60318.578948924, 1e-6);
  // The circles through the middle of each of its 160 turns.
  double circles = 0;
  for (int k = 0; k < 160; ++k) circles += pi * (80 + (2 * k + 1) * 0.25);
  EXPECT_NEAR(length->value, circles, 1e-7);
  // The spiral itself (arc length of r = b a: Lawrence 1972, from memory) and its polyline.
  const double spiral = spiral_length(80, 160, 0.25);
  EXPECT_NEAR(spiral / length->value, 1, 1e-6);
  double chords = 0;
  const double b = 0.25 / (2 * pi);
  constexpr int kPerTurn = 20000;
  const auto at = [b](int i) {
    const double angle = 40 / b + 2 * pi * i / kPerTurn;
    return std::pair{b * angle * std::cos(angle), b * angle * std::sin(angle)};
  };
  for (int i = 0; i < 160 * kPerTurn; ++i) {
    const auto [x0, y0] = at(i);
    const auto [x1, y1] = at(i + 1);
    chords += std::hypot(x1 - x0, y1 - y0);
  }
  EXPECT_NEAR(chords / spiral, 1, 1e-7);
}

// JCGM 100:2008, equation 10; the derivatives by central differences.
TEST(RollMeasure, ItsUncertaintyIsThePropagatedOne) {
  const auto length = [](double outer, double core, double wound) {
    return length_by_diameter({{outer, 0}, {core, 0}, {wound, 0}})->value;
  };
  const double h = 1e-4;
  const double by_outer = (length(160 + h, 80, 0.25) - length(160 - h, 80, 0.25)) / (2 * h) * 0.5;
  const double by_core = (length(160, 80 + h, 0.25) - length(160, 80 - h, 0.25)) / (2 * h) * 0.3;
  const double by_wound =
      (length(160, 80, 0.25 + h / 100) - length(160, 80, 0.25 - h / 100)) / (2 * h / 100) * 0.004;
  const auto measured = length_by_diameter({{160, 0.5}, {80, 0.3}, {0.25, 0.004}});
  EXPECT_NEAR(measured->uncertainty, std::hypot(by_outer, by_core, by_wound), 0.01);
}

// By hand: 1.5 m wide at 200 g/m^2 is 300 g a metre; 4500 g of film are 15 m.
TEST(RollMeasure, ByWeight) {
  const auto length = length_by_weight({{5000, 10}, {500, 0}, {200, 0}}, Mm{1500});
  EXPECT_NEAR(length->value, 15000, 1e-9);
  EXPECT_NEAR(length->uncertainty, 10 / 0.3, 1e-9);
}

TEST(RollMeasure, WrongMeasuresAreExplained) {
  EXPECT_NE(length_by_diameter({{70, 0}, {80, 0}, {0.25, 0}}).error().what.find("core"),
            std::string::npos);
  EXPECT_FALSE(length_by_diameter({{160, 0}, {80, 0}, {0, 0}}));
  EXPECT_FALSE(length_by_weight({{400, 0}, {500, 0}, {200, 0}}, Mm{1500}));
  EXPECT_FALSE(length_by_weight({{5000, 0}, {500, 0}, {0, 0}}, Mm{1500}));
}

TEST(RollMeasure, BookAndMeasureAreHeldAgainstEachOther) {
  const StockCheck good = compare(roll(), {9150, 100});
  EXPECT_TRUE(good.agrees);
  EXPECT_EQ(warning_of(good), "");
  const StockCheck bad = compare(roll(), {8000, 100});
  EXPECT_FALSE(bad.agrees);
  EXPECT_NE(warning_of(bad).find("9.00 m"), std::string::npos);
  EXPECT_NE(warning_of(bad).find("8.00 m"), std::string::npos);
}

Supply supply() {
  Supply s;
  s.film = "clear";
  s.width = Mm{1524};
  s.minimum = Mm{5000};
  s.lead_days = 7;
  return s;
}

TEST(SupplyOutlook, WhatHowMuchByWhen) {
  const std::vector<Roll> rolls{roll()};  // 9 m
  const std::vector<FilmNeed> needs{{"clear", Mm{1524}, Mm{20000}, "J-2", "2031-05-20"},
                                    {"clear", Mm{1524}, Mm{3000}, "J-1", "2031-05-04"},
                                    {"other", Mm{1524}, Mm{9000}, "J-3", ""},
                                    {"clear", Mm{610}, Mm{9000}, "J-4", ""}};
  const auto all = outlooks(std::vector{supply()}, rolls, needs, "2031-05-01");
  ASSERT_EQ(all.size(), 1u);
  const Outlook& outlook = all.front();
  EXPECT_EQ(outlook.in_stock, Mm{9000});
  EXPECT_EQ(outlook.needed, Mm{23000});
  EXPECT_FALSE(outlook.low);
  EXPECT_EQ(outlook.short_on, "2031-05-20");  // 9 - 3 m is above the minimum of 5 m
  EXPECT_EQ(outlook.order_by, "2031-05-13");
  EXPECT_EQ(outlook.rolls_to_order, 2);  // 19 m are missing, 15 m a roll
}

TEST(SupplyOutlook, EnoughFilmNeedsNoOrderAndAnEmptyRackNeedsOneToday) {
  const std::vector<Roll> rolls{roll()};
  EXPECT_EQ(outlooks(std::vector{supply()}, rolls, {}, "2031-05-01").front().rolls_to_order, 0);
  const Outlook empty = outlooks(std::vector{supply()}, {}, {}, "2031-05-01").front();
  EXPECT_TRUE(empty.low);
  EXPECT_EQ(empty.order_by, "2031-05-01");
  EXPECT_EQ(empty.rolls_to_order, 1);
}

TEST(Day, DaysAreCountedAcrossMonthsAndLeapYears) {
  EXPECT_EQ(day_after("2028-02-28", 1), "2028-02-29");
  EXPECT_EQ(day_after("2100-02-28", 1), "2100-03-01");
  EXPECT_EQ(day_after("2031-01-03", -7), "2030-12-27");
}

Polygon rectangle(double x0, double y0, double x1, double y1) {
  return {{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, {}};
}

TEST(Offcut, RestsAreTheFreeRectanglesLargestFirst) {
  const Polygon film = rectangle(0, 0, 2000, 1000);
  const std::vector<Polygon> cut{rectangle(0, 0, 1000, 1000), rectangle(1000, 0, 1500, 700)};
  const auto rests = rests_of(film, cut, {Mm{200}, Mm{0}});
  ASSERT_EQ(rests.size(), 2u);
  EXPECT_EQ(rests[0], (Box{{1500, 0}, {2000, 1000}}));
  EXPECT_EQ(rests[1], (Box{{1000, 700}, {1500, 1000}}));
}

TEST(Offcut, RestsKeepTheirMarginAndStayInsideTheFilm) {
  const Polygon film{{{0, 0}, {1000, 0}, {1000, 400}, {0, 800}}, {}};
  const std::vector<Polygon> cut{{{{100, 100}, {300, 120}, {280, 300}}, {}}};
  const auto rests = rests_of(film, cut, {Mm{100}, Mm{10}});
  ASSERT_FALSE(rests.empty());
  for (const Box& rest : rests) {
    EXPECT_LE(rest.high.y, 800 - 0.4 * rest.high.x + 1e-9);
    EXPECT_GE(std::min(rest.width(), rest.height()), 100);
  }
}

TEST(Offcut, AnOutlineIsShelvedWithItsGrainAlongX) {
  const Polygon drawn = rectangle(50, 50, 250, 650);  // grain up the page
  const Polygon kept = shelved(drawn, Angle::from_degrees(90));
  EXPECT_EQ(bounding_box(kept), (Box{{0, 0}, {600, 200}}));
}

TEST(Offcut, BrokenFieldsAreNamed) {
  const Offcut good{"O-1", "clear", "L7",         rectangle(0, 0, 600, 200),
                    "R-1", "",      "2031-05-04", "shelf"};
  EXPECT_TRUE(check(good));
  Offcut bad = good;
  bad.lot.clear();
  EXPECT_NE(check(bad).error().where.find("lot"), std::string::npos);
  bad = good;
  bad.outline = rectangle(10, 0, 600, 200);
  EXPECT_NE(check(bad).error().where.find("outline"), std::string::npos);
  bad = good;
  bad.outline = {{{0, 0}, {600, 200}, {600, 0}, {0, 200}}, {}};
  EXPECT_NE(check(bad).error().where.find("outline"), std::string::npos);
}

}  // namespace
}  // namespace film::shop
