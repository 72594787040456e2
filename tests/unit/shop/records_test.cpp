#include <limits>

#include <gtest/gtest.h>

#include "shop/film.h"
#include "shop/names.h"
#include "shop/roll.h"
#include "shop/settings.h"

namespace film::shop {
namespace {

Roll roll() {
  return {"R-1", "clear", "L7", Mm::from_inches(60), Mm{15000}, Mm{9000}, "2028-02-29", "rack"};
}

TEST(Roll, ADefectLiesWhereTheLayoutMeetsItHoweverMuchWasCut) {
  Roll r = roll();
  r.defects = {{Mm{8000}, Mm{100}, Mm{0}, Mm{50}, "dent"}};
  ASSERT_TRUE(check(r));
  EXPECT_EQ(defects_ahead(r), (std::vector<Box>{{{900, 0}, {1000, 50}}}));
  r.remaining = Mm{8050};  // half of it is cut away
  EXPECT_EQ(defects_ahead(r), (std::vector<Box>{{{0, 0}, {50, 50}}}));
  r.remaining = Mm{8000};
  EXPECT_TRUE(defects_ahead(r).empty());
  r.defects.front().high = Mm{1600};
  EXPECT_NE(check(r).error().where.find("defects"), std::string::npos);
}

// The Gregorian calendar: 2028 is a leap year, 2100 and 2027 are not.
TEST(Roll, OnlyRealDaysAreTaken) {
  const auto on = [](const char* day) {
    Roll r = roll();
    r.received = day;
    return check(r).has_value();
  };
  EXPECT_TRUE(on("2028-02-29"));
  EXPECT_TRUE(on("2000-02-29"));
  EXPECT_FALSE(on("2027-02-29"));
  EXPECT_FALSE(on("2100-02-29"));
  EXPECT_FALSE(on("2028-04-31"));
  EXPECT_FALSE(on("2028-13-01"));
  EXPECT_FALSE(on("2028-2-01"));
  EXPECT_FALSE(on("yesterday!"));
}

TEST(Roll, EachBrokenFieldIsNamed) {
  Roll r = roll();
  r.lot.clear();
  EXPECT_NE(check(r).error().where.find("lot"), std::string::npos);
  r = roll();
  r.remaining = Mm{15001};
  EXPECT_NE(check(r).error().where.find("remaining"), std::string::npos);
  r = roll();
  r.width = Mm{std::numeric_limits<double>::infinity()};
  EXPECT_NE(check(r).error().where.find("width"), std::string::npos);
}

TEST(FilmRecord, ColoursAndFinishesAreChecked) {
  Film film;
  film.id = "clear";
  film.name = "Clear";
  film.suits = {Finish::gloss_paint};
  EXPECT_TRUE(check(film));
  film.colour = "#12345g";
  EXPECT_FALSE(check(film));
  film.colour = "#12345f";
  film.suits.clear();
  EXPECT_FALSE(check(film));
}

TEST(FilmRecord, SuitsOnlyItsFinishes) {
  Film film;
  film.suits = {Finish::glass};
  Panel panel;
  panel.finish = Finish::glass;
  EXPECT_TRUE(suits(film, panel));
  panel.finish = Finish::lamp;
  EXPECT_FALSE(suits(film, panel));
}

TEST(SettingsRecord, ACurrencyIsThreeCapitals) {
  Settings settings;
  settings.name = "Shop";
  EXPECT_TRUE(check(settings));
  settings.currency = "eur";
  EXPECT_FALSE(check(settings));
}

TEST(Names, EveryFinishIsReadBack) {
  for (int i = 0; i <= static_cast<int>(Finish::rubber); ++i) {
    const auto finish = static_cast<Finish>(i);
    EXPECT_EQ(parse<Finish>(name_of(finish)), finish);
  }
  EXPECT_EQ(parse<Finish>("velvet"), std::nullopt);
}

}  // namespace
}  // namespace film::shop
