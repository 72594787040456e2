#include "glazing/lamp.h"

#include <cmath>

#include <gtest/gtest.h>

namespace film::glazing {
namespace {

Sheet smoke(double internal) {
  Sheet film;
  film.id = "smoke";
  film.front_index = film.back_index = 1.59;  // as the lens, so that no boundary stays between
  film.optics = BandedOptics{{{"visible", clear_sheet(1.59, internal)}}};
  return film;
}

// Closed form: the same two faces with air as before, the film's inside between them, and the
// echoes between the faces: T = (1 - r)^2 t / (1 - r^2 t^2) over the same with t = 1.
TEST(Lamp, UnderAnIndexMatchedFilmTheFilmsInsideIsLeft) {
  const double r = fresnel_reflectance(1, 1.59);
  const double t = 0.5;
  const double expected = t * (1 - r * r) / (1 - r * r * t * t);
  EXPECT_NEAR(light_left(smoke(t), LampUse::tail, LampColour::red)->left, expected, 1e-12);
}

TEST(Lamp, AReflectorsLightPassesTwice) {
  const auto once = light_left(smoke(0.5), LampUse::tail, LampColour::red);
  const auto twice = light_left(smoke(0.5), LampUse::reflector, LampColour::red);
  EXPECT_EQ(twice->passes, 2);
  EXPECT_NEAR(twice->left, once->left * once->left, 1e-12);
}

TEST(Lamp, AClearFilmTakesNothing) {
  EXPECT_NEAR(light_left(smoke(1), LampUse::head, LampColour::white)->left, 1, 1e-12);
}

// With a spectrum the square is taken wavelength by wavelength, which is more than the square of
// the mean.
TEST(Lamp, TheSpectrumCountsForColouredLight) {
  SpectralOptics spectrum;
  for (int nm = 380; nm <= 780; nm += 10) {
    spectrum.wavelengths.push_back(Nm{static_cast<double>(nm)});
    spectrum.values.push_back(symmetric(nm < 590 ? 0.1 : 0.85, 0.05));
  }
  Sheet film;
  film.id = "red glass";
  film.optics = spectrum;
  const double red = light_left(film, LampUse::tail, LampColour::red)->left;
  const double white = light_left(film, LampUse::head, LampColour::white)->left;
  EXPECT_GT(red, 0.8);
  EXPECT_LT(white, 0.5);
  const double twice = light_left(film, LampUse::reflector, LampColour::white)->left;
  EXPECT_GT(twice, white * white + 0.05);
}

LampLimit limit(Confidence confidence) {
  LampLimit row;
  row.regime = "UN R3";
  row.use = LampUse::reflector;
  row.least = 300;
  row.unit = "mcd/lx";
  row.text = "a text";
  row.source = "where";
  row.date_read = "2026-11-25";
  row.confidence = confidence;
  return row;
}

TEST(Lamp, OnlyAMeasuredBaselineAndAReadFigureGiveAYes) {
  const LampLight light{0.5, 1, Method::spectral};
  EXPECT_EQ(judge_lamp(limit(Confidence::read), light, 800).verdict, Verdict::allowed);
  EXPECT_EQ(judge_lamp(limit(Confidence::read), light, 500).verdict, Verdict::not_allowed);
  EXPECT_EQ(judge_lamp(limit(Confidence::read), light, std::nullopt).verdict, Verdict::unknown);
  EXPECT_EQ(judge_lamp(limit(Confidence::secondary), light, 800).verdict, Verdict::unknown);
  EXPECT_EQ(judge_lamp(limit(Confidence::memory), light, 800).verdict, Verdict::unknown);
  EXPECT_EQ(judge_lamp(limit(Confidence::memory), light, 100).verdict, Verdict::unknown);
  LampLimit no_figure = limit(Confidence::read);
  no_figure.least.reset();
  EXPECT_EQ(judge_lamp(no_figure, light, 800).verdict, Verdict::unknown);
  EXPECT_NEAR(*judge_lamp(limit(Confidence::read), light, 800).remaining, 400, 1e-12);
}

// Source: illuminant A is redder than daylight: CIE x 0.4476, y 0.4074 (ISO/CIE 11664-2).
TEST(Lamp, TheFilamentIsIlluminantA) {
  const BandWeights& lamp = lamp_weights(LampColour::white);
  // A at 560 nm is 100 and at 380 nm 9.80, at 780 nm 241.68 (table of ISO/CIE 11664-2).
  const auto at = [&](std::size_t k) { return lamp.weights[k] / eye_by_day()[k]; };
  EXPECT_NEAR(at(18), 100, 1e-9);
  EXPECT_NEAR(at(0), 9.80, 0.005);
  EXPECT_NEAR(at(40), 241.68, 0.02);
}

}  // namespace
}  // namespace film::glazing
