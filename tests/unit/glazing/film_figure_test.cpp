#include "glazing/film_figure.h"

#include <cmath>

#include <gtest/gtest.h>

#include "base/rng.h"

namespace film::glazing {
namespace {

// The check is the forward computation (glazing/stack.h), itself held against closed forms.
TEST(FilmFigure, TheFilmComesBackOutOfATotalWithin005PointsIn10000Cases) {
  Rng rng(77);
  double worst = 0;
  for (int k = 0; k < 10'000; ++k) {
    const double glass_index = rng.uniform(1.48, 1.55);
    const double film_index = rng.uniform(1.45, 1.70);
    const KnownGlass glass{clear_sheet(glass_index, rng.uniform(0.2, 1.0)), glass_index};
    const double rf = rng.uniform(0, 0.5);
    const double rb = rng.uniform(0, 0.5);
    const double t = rng.uniform(0.02, 1) * (1 - std::max(rf, rb));
    const Optics film =
        combined(combined(boundary(1, film_index), Optics{t, rf, t, rb}), boundary(film_index, 1));
    const auto back = free_film(bonded(film, film_index, glass), glass, film_index);
    ASSERT_TRUE(back) << "case " << k;
    worst = std::max({worst, std::fabs(back->transmit_front - film.transmit_front),
                      std::fabs(back->reflect_front - film.reflect_front),
                      std::fabs(back->reflect_back - film.reflect_back)});
  }
  EXPECT_LT(100 * worst, 0.05);
  EXPECT_LT(worst, 1e-9);  // it is exact but for rounding
}

TEST(FilmFigure, AMetersTotalGivesTheFilmWithin005PointsIn10000Cases) {
  Rng rng(78);
  double worst = 0;
  for (int k = 0; k < 10'000; ++k) {
    const double film_index = rng.uniform(1.45, 1.70);
    const KnownGlass glass{clear_sheet(1.52, rng.uniform(0.3, 1.0)), 1.52};
    const Optics film = clear_sheet(film_index, rng.uniform(0.01, 1));
    const double total = bonded(film, film_index, glass).transmit_front;
    const auto back = free_film_from_meter(total, glass, film_index);
    ASSERT_TRUE(back) << "case " << k;
    worst = std::max(worst, std::fabs(back->transmit_front - film.transmit_front));
  }
  EXPECT_LT(100 * worst, 0.05);
}

TEST(FilmFigure, ATotalAboveTheGlassIsRefused) {
  const KnownGlass glass{clear_sheet(1.52, 0.8), 1.52};
  const auto film = free_film_from_meter(0.95, glass, 1.52);
  ASSERT_FALSE(film);
  EXPECT_NE(film.error().what.find("95.0 %"), std::string::npos);
  EXPECT_FALSE(free_film(symmetric(0.9, 0.08), {symmetric(0, 0.05), 1.52}, 1.52));
}

TEST(FilmFigure, AFigureMovesToOtherGlassWithARange) {
  const KnownGlass clear{clear_sheet(1.52, 0.98), 1.52};
  const KnownGlass tinted{clear_sheet(1.52, 0.80), 1.52};
  const FilmFigure on_clear{0.35, 0.08, clear, 0.005};
  const auto there = moved(on_clear, tinted, {});
  ASSERT_TRUE(there);
  EXPECT_LT(there->low, there->value);
  EXPECT_GT(there->high, there->value);
  // Glass of 82 % in front of what was 35 % on glass of 98 %: about 35 x 0.80 / 0.98.
  EXPECT_NEAR(there->value, 0.35 * 0.80 / 0.98, 0.004);
  // The same number measured free is another film: bonded it loses two faces.
  const auto free = moved({0.35, 0.08, std::nullopt, 0.005}, tinted, {});
  ASSERT_TRUE(free);
  EXPECT_GT(std::fabs(free->value - there->value), 0.002);
}

TEST(FilmFigure, WithoutDoubtsTheRangeIsAPoint) {
  const KnownGlass glass{clear_sheet(1.52, 0.9), 1.52};
  const auto there = moved({0.35, 0.08, std::nullopt, 0}, glass, {1.52, 1.52, 1.52, 0});
  ASSERT_TRUE(there);
  EXPECT_NEAR(there->low, there->high, 1e-12);
}

}  // namespace
}  // namespace film::glazing
