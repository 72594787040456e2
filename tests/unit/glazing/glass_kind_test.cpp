#include "glazing/glass_kind.h"

#include <gtest/gtest.h>

namespace film::glazing {
namespace {

double average_over(const Sheet& sheet, const BandWeights& band) {
  return average_of({{sheet}, {}}, band)->optics.total.transmit_front;
}

// Source: averages of EnergyPlus, WindowGlassMaterials.idf, Tvis / Tsol.
TEST(GlassKind, HasTheSolarTransmittanceOfRealGlassOfItsKind) {
  struct Case {
    Tint tint;
    double visible, solar;
  };
  for (const Case& c : {Case{Tint::green, 0.898, 0.837}, Case{Tint::green, 0.822, 0.635},
                        Case{Tint::green, 0.749, 0.487}, Case{Tint::grey, 0.611, 0.626},
                        Case{Tint::grey, 0.431, 0.455}, Case{Tint::bronze, 0.685, 0.645}}) {
    const auto glass = glass_like(c.visible, c.tint, "pane");
    ASSERT_TRUE(glass);
    EXPECT_NEAR(average_over(*glass, visible_weights()), c.visible, 1e-9);
    EXPECT_NEAR(average_over(*glass, solar_weights()), c.solar, 0.03) << c.visible;
  }
}

TEST(GlassKind, RefusesMoreThanTwoClearFacesLetThrough) {
  EXPECT_FALSE(glass_like(0.95, Tint::green, "pane"));
  EXPECT_FALSE(glass_like(0, Tint::grey, "pane"));
  EXPECT_TRUE(glass_like(0.03, Tint::grey, "pane"));
}

// A film that stops 95 % of the infrared and lets 70 % of the visible through, taking it up rather
// than mirroring it, keeps out about half of the sun's heat, not 95 %.
TEST(GlassKind, StoppingTheInfraredIsNotStoppingTheHeat) {
  SpectralOptics spectrum;
  for (int nm = 300; nm <= 2500; nm += 5) {
    spectrum.wavelengths.push_back(Nm{static_cast<double>(nm)});
    const double t = nm < 380 ? 0.01 : nm < 780 ? 0.70 : 0.05;
    spectrum.values.push_back(symmetric(t, 0.05));
  }
  Sheet film;
  film.id = "film";
  film.optics = spectrum;
  const Stack alone{{film}, {}};
  const auto infrared = average_of(alone, infrared_weights());
  EXPECT_NEAR(1 - infrared->optics.total.transmit_front, 0.95, 1e-9);
  const auto solar = average_of(alone, solar_weights());
  EXPECT_LT(solar->optics.total.transmit_front, 0.5);
  EXPECT_GT(solar->optics.total.transmit_front, 0.3);
}

}  // namespace
}  // namespace film::glazing
