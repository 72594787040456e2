#include "demo/shop.h"

#include <algorithm>
#include <map>
#include <set>

#include <gtest/gtest.h>

#include "demo/vehicle.h"

namespace film::demo {
namespace {

TEST(DemoShop, EveryRecordPassesItsOwnCheck) {
  const Shop shop = make_shop();
  EXPECT_TRUE(shop::check(shop.settings));
  EXPECT_TRUE(shop.settings.demo);
  for (const auto& film : shop.films) EXPECT_TRUE(shop::check(film)) << film.id;
  for (const auto& roll : shop.rolls) EXPECT_TRUE(shop::check(roll)) << roll.id;
  for (const auto& offcut : shop.offcuts) EXPECT_TRUE(shop::check(offcut)) << offcut.lot;
  for (const auto& supply : shop.supplies) EXPECT_TRUE(shop::check(supply)) << supply.film;
  for (const auto& profile : shop.profiles) {
    EXPECT_TRUE(cutting::make_profile(profile.settings)) << profile.id;
  }
}

TEST(DemoShop, RollsAreOfFilmsThatTheShopHasAndFitItsPlotter) {
  const Shop shop = make_shop();
  std::set<std::string> films;
  for (const auto& film : shop.films) films.insert(film.id);
  Mm widest{0};
  for (const auto& profile : shop.profiles) widest = std::max(widest, profile.settings.media_width);
  std::set<std::string> stocked;
  for (const auto& roll : shop.rolls) {
    EXPECT_EQ(films.count(roll.film), 1u) << roll.id;
    EXPECT_LE(roll.width, widest) << roll.id;
    stocked.insert(roll.film);
  }
  EXPECT_EQ(stocked, films);
}

TEST(DemoShop, ItsJobPutsASuitingFilmOnNearlyEveryPanel) {
  const Shop shop = make_shop();
  const shop::VehicleModel vehicle = make_vehicle();
  const shop::Job job = make_job(vehicle);
  EXPECT_TRUE(shop::check(job));
  EXPECT_GE(job.scope.size(), 90u);
  for (const auto& item : job.scope) {
    const auto panel = std::find_if(vehicle.panels.begin(), vehicle.panels.end(),
                                    [&](const auto& p) { return p.id == item.panel; });
    const auto film = std::find_if(shop.films.begin(), shop.films.end(),
                                   [&](const auto& f) { return f.id == item.film; });
    ASSERT_NE(panel, vehicle.panels.end()) << item.panel;
    ASSERT_NE(film, shop.films.end()) << item.film;
    EXPECT_TRUE(shop::suits(*film, *panel)) << item.panel;
    EXPECT_NE(item.panel, "windscreen");
    EXPECT_NE(panel->finish, shop::Finish::reflector) << item.panel;
  }
}

}  // namespace
}  // namespace film::demo
