#include "shop/scope_rules.h"

#include <algorithm>

#include <gtest/gtest.h>

namespace film::shop {
namespace {

Film film(const char* id, Gloss gloss, std::vector<Finish> suits) {
  Film film;
  film.id = film.name = id;
  film.gloss = gloss;
  film.suits = std::move(suits);
  return film;
}

std::vector<Film> films() {
  return {film("clear", Gloss::gloss, {Finish::gloss_paint, Finish::gloss_black}),
          film("mist", Gloss::matte, {Finish::gloss_paint, Finish::matte_paint}),
          film("lens", Gloss::gloss, {Finish::lamp}), film("shade", Gloss::gloss, {Finish::glass})};
}

Panel panel(const char* id, const char* zone, Finish finish, bool sensor = false) {
  Panel panel;
  panel.id = panel.name = id;
  panel.zone = zone;
  panel.finish = finish;
  panel.sensor = sensor;
  return panel;
}

VehicleModel vehicle() {
  VehicleModel vehicle;
  vehicle.panels = {panel("hood", "front", Finish::gloss_paint),
                    panel("front_bumper", "front", Finish::gloss_paint, true),
                    panel("grille_trim", "front", Finish::gloss_black),
                    panel("fender_left", "left", Finish::gloss_paint),
                    panel("roof", "roof", Finish::gloss_paint),
                    panel("head_lamp_left", "lamps", Finish::lamp),
                    panel("rear_reflector_left", "lamps", Finish::reflector),
                    panel("windscreen", "glass", Finish::glass),
                    panel("rear_glass", "glass", Finish::glass)};
  return vehicle;
}

const Look& look_of(const std::vector<Look>& looks, const char* id) {
  return *std::find_if(looks.begin(), looks.end(), [id](const Look& l) { return l.id == id; });
}

std::vector<Proposal> proposed(const char* package, const char* look) {
  const auto packages = usual_packages();
  const auto looks = usual_looks(films());
  const auto found = std::find_if(packages.begin(), packages.end(),
                                  [package](const Package& p) { return p.id == package; });
  return propose(*found, look_of(looks, look), vehicle(), films());
}

std::string film_on(const std::vector<Proposal>& proposals, const char* id) {
  for (const Proposal& proposal : proposals) {
    if (proposal.panel == id) return proposal.film;
  }
  return "not proposed";
}

TEST(ScopeRules, AMatteConversionKeepsGlossOnBlackTrim) {
  const auto body = proposed("full_body", "matte_conversion");
  EXPECT_EQ(film_on(body, "hood"), "mist");
  EXPECT_EQ(film_on(body, "roof"), "mist");
  EXPECT_EQ(film_on(body, "grille_trim"), "clear");
  EXPECT_EQ(film_on(body, "rear_glass"), "not proposed");
}

TEST(ScopeRules, NothingGoesOverASensorAndTheReasonIsTold) {
  for (const Proposal& proposal : proposed("full_front", "as_it_is")) {
    if (proposal.panel != "front_bumper") continue;
    EXPECT_EQ(proposal.film, "");
    EXPECT_NE(proposal.reason.find("sensor"), std::string::npos);
  }
  const auto scope = scope_of(proposed("full_front", "as_it_is"));
  EXPECT_EQ(scope, (std::vector<ScopeItem>{
                       {"hood", "clear"}, {"grille_trim", "clear"}, {"fender_left", "clear"}}));
}

TEST(ScopeRules, WhatTheDriverLooksThroughAndReflectorsStayBare) {
  const auto windows = proposed("windows", "as_it_is");
  EXPECT_EQ(film_on(windows, "windscreen"), "");
  EXPECT_EQ(film_on(windows, "rear_glass"), "shade");
  const auto lamps = proposed("lamps", "as_it_is");
  EXPECT_EQ(film_on(lamps, "head_lamp_left"), "lens");
  EXPECT_EQ(film_on(lamps, "rear_reflector_left"), "");
}

TEST(ScopeRules, AFilmThatDoesNotSuitIsNeverProposed) {
  Look look{"x", "X", {{Finish::lamp, false, {}, "clear", "a slip"}}};
  const Proposal proposal = propose(look, panel("l", "lamps", Finish::lamp), films());
  EXPECT_EQ(proposal.film, "");
  look.rules.front().film = "gone";
  EXPECT_EQ(propose(look, panel("l", "lamps", Finish::lamp), films()).film, "");
}

TEST(ScopeRules, BrokenRulesAreRefused) {
  EXPECT_TRUE(check(usual_packages(), usual_looks(films())));
  auto packages = usual_packages();
  packages.push_back(packages.front());
  EXPECT_FALSE(check(packages, {}));
  packages.back().id = "another";
  packages.back().covers.clear();
  EXPECT_FALSE(check(packages, {}));
  EXPECT_FALSE(check({}, {{"x", "X", {}}}));
  EXPECT_FALSE(check({}, {{"x", "X", {{Finish::lamp, false, {}, "", ""}}}}));
}

}  // namespace
}  // namespace film::shop
