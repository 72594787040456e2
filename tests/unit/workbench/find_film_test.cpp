#include "workbench/find_film.h"

#include <gtest/gtest.h>

#include "base/rng.h"
#include "base/text.h"
#include "layout/verify.h"

namespace film::workbench {
namespace {

Polygon rectangle(double length, double width) {
  return {{{0, 0}, {length, 0}, {length, width}, {0, width}}, {}};
}

shop::Offcut offcut(const char* id, Polygon outline, const char* film = "clear") {
  return {id, film, "L1", std::move(outline), "R-1", "", "2031-05-04", "shelf"};
}

FilmSearch search(Polygon shape, std::vector<Angle> turns = {Angle{0}}) {
  FilmSearch s;
  s.piece = {"hood", std::move(shape), 1, std::move(turns)};
  s.film = "clear";
  s.gap = 5;
  return s;
}

shop::Roll roll() {
  return {"R-1", "clear", "L1", Mm{1524}, Mm{15000}, Mm{9000}, "2031-05-04", ""};
}

TEST(FindFilm, TheSmallestOffcutThatTakesThePieceComesFirst) {
  const std::vector<shop::Offcut> shelf{
      offcut("O-1", rectangle(1000, 900)), offcut("O-2", rectangle(420, 320)),
      offcut("O-3", rectangle(390, 700)),           // long enough only against the grain
      offcut("O-4", rectangle(410, 310), "matte"),  // another film
      offcut("O-5", rectangle(500, 400))};
  const auto places = places_for(search(rectangle(400, 300)), shelf, std::vector{roll()});
  ASSERT_TRUE(places) << places.error().message();
  ASSERT_EQ(places->size(), 4u);
  EXPECT_EQ(places->front().film.id, "O-2");
  EXPECT_TRUE(places->front().offcut);
  EXPECT_NEAR(places->front().waste, 420 * 320 - 400 * 300, 1e-6);
}

TEST(FindFilm, AnOffcutIsJudgedByItsOutlineNotItsBox) {
  const Polygon corner{{{0, 0}, {800, 0}, {0, 800}}, {}};  // half of its box
  const std::vector<shop::Offcut> shelf{offcut("O-1", corner)};
  EXPECT_EQ(places_for(search(rectangle(390, 390)), shelf, {})->size(), 1u);
  // 450 + 450 is past the slope.
  EXPECT_TRUE(places_for(search(rectangle(450, 450)), shelf, {})->empty());
}

TEST(FindFilm, ALargeOffcutIsNotSpoiledWhereARollIsCheaper) {
  // The last of its shelf: half of its film would be worth more than the strip of the roll.
  const Polygon slanted{{{0, 0}, {3000, 0}, {3000, 190}, {1500, 900}, {0, 190}}, {}};
  const std::vector<shop::Offcut> shelf{offcut("O-1", slanted)};
  const auto places = places_for(search(rectangle(150, 700)), shelf, std::vector{roll()});
  ASSERT_EQ(places->size(), 2u);
  EXPECT_FALSE(places->front().offcut);
}

TEST(FindFilm, GoneOffcutsAndDefectsAreKeptAwayFrom) {
  std::vector<shop::Offcut> shelf{offcut("O-1", rectangle(420, 320))};
  shelf.front().gone = true;
  shop::Roll marked = roll();
  marked.defects = {{Mm{8000}, Mm{1000}, Mm{0}, Mm{1524}, "stain"}};  // the first metre
  const auto places = places_for(search(rectangle(400, 300)), shelf, std::vector{marked});
  ASSERT_EQ(places->size(), 1u);
  const FilmPlace& place = places->front();
  EXPECT_GE(bounding_box(layout::outline_of(place.problem, place.solution.placements[0])).low.x,
            1000);
}

TEST(FindFilm, WhatIsLeftIsOfferedToTheShelf) {
  const std::vector<shop::Offcut> shelf{offcut("O-1", rectangle(1000, 600))};
  const auto places = places_for(search(rectangle(500, 590)), shelf, {});
  ASSERT_EQ(places->size(), 1u);
  ASSERT_EQ(places->front().rests.size(), 1u);
  EXPECT_NEAR(places->front().rests[0].width(), 495, 1e-9);
  EXPECT_NEAR(places->front().rests[0].height(), 600, 1e-9);
}

TEST(FindFilm, EveryPlaceAmongManyPassesTheVerifier) {
  Rng rng(3);
  std::vector<shop::Offcut> shelf;
  std::vector<std::string> names;
  for (int i = 0; i < 100; ++i) names.push_back(format("O-{}", i));
  for (const std::string& name : names) {
    const double l = rng.uniform(200, 1500);
    const double w = rng.uniform(200, 1200);
    const double cut = rng.uniform(0.3, 1) * std::min(l, w);
    shelf.push_back(
        offcut(name.c_str(), {{{0, 0}, {l, 0}, {l, w - cut / 2}, {l - cut, w}, {0, w}}, {}}));
  }
  const Polygon piece{{{0, 0}, {400, 60}, {380, 300}, {150, 320}, {20, 200}}, {}};
  FilmSearch wanted = search(piece, {});  // any angle
  wanted.offcuts = 20;
  const auto places = places_for(wanted, shelf, std::vector{roll()});
  ASSERT_TRUE(places);
  EXPECT_EQ(places->size(), 21u);
  for (const FilmPlace& place : *places) {
    EXPECT_TRUE(layout::verify(place.problem, place.solution).empty());
    EXPECT_GE(place.waste, 0);
  }
}

}  // namespace
}  // namespace film::workbench
