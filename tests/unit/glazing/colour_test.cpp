#include "glazing/colour.h"

#include <cmath>

#include <gtest/gtest.h>

#include "unit/glazing/tables.h"

namespace film::glazing {
namespace {

// Source: IEC 61966-2-1 gives D65 as x 0.3127, y 0.3290; ISO/CIE 11664-2 the same to four places.
// Sums in steps of 10 nm reach the third place.
TEST(Colour, TheWhiteOfD65HasItsPlaceInTheChart) {
  const Xyz w = white();
  EXPECT_NEAR(w.y, 1, 1e-12);
  EXPECT_NEAR(w.x / (w.x + w.y + w.z), 0.3127, 1e-4);
  EXPECT_NEAR(w.y / (w.x + w.y + w.z), 0.3290, 2e-4);
}

// Source: the CIE made the three functions enclose equal areas (ISO/CIE 11664-1): light of equal
// energy is x = y = 1/3.
TEST(Colour, EqualEnergyIsNeutral) {
  const auto& observer = observer_weights();
  double x = 0, y = 0, z = 0;
  for (std::size_t k = 0; k < 41; ++k) {
    x += observer[0].weights[k] / daylight_d65()[k];
    y += observer[1].weights[k] / daylight_d65()[k];
    z += observer[2].weights[k] / daylight_d65()[k];
  }
  EXPECT_NEAR(x / (x + y + z), 1.0 / 3, 2e-4);
  EXPECT_NEAR(z / (x + y + z), 1.0 / 3, 2e-4);
}

TEST(Colour, YIsTheVisibleTransmittance) {
  std::vector<double> shares;
  for (int k = 0; k < 41; ++k) shares.push_back(0.2 + 0.01 * k);
  EXPECT_NEAR(seen(shares).y, average(visible_weights(), shares), 1e-12);
}

// Source: IEC 61966-2-1, the transfer function and its two branches; 0.18 is the grey card whose
// value 118 is in many tables.
TEST(Colour, ScreenValuesFollowTheStandard) {
  EXPECT_NEAR(encode(0), 0, 1e-15);
  EXPECT_NEAR(encode(1), 1, 1e-12);
  EXPECT_NEAR(encode(0.0031308), 0.04045, 1e-5);
  EXPECT_EQ(shown({0.18, 0.18, 0.18})[0], 118);
  EXPECT_EQ(shown({0.5, 0.5, 0.5})[1], 188);  // half the light, not half the value
  for (const double v : {0.0, 0.01, 0.2, 0.7, 1.0}) EXPECT_NEAR(encode(decode(v)), v, 1e-9);
  const ShownRgb w = shown(linear_rgb(white()));
  for (const int part : w) EXPECT_NEAR(part, 255, 1);
}

// Source: Sharma, Wu and Dalal, The CIEDE2000 color-difference formula (2005), table 1 (pairs 1, 2,
// 3, 4, 7, 17, 19, 25; from memory of the table).
TEST(Colour, DifferencesAreThePublishedOnes) {
  const auto d = [](Lab a, Lab b) { return difference(a, b); };
  EXPECT_NEAR(d({50, 2.6772, -79.7751}, {50, 0, -82.7485}), 2.0425, 5e-5);
  EXPECT_NEAR(d({50, 3.1571, -77.2803}, {50, 0, -82.7485}), 2.8615, 5e-5);
  EXPECT_NEAR(d({50, 2.8361, -74.0200}, {50, 0, -82.7485}), 3.4412, 5e-5);
  EXPECT_NEAR(d({50, -1.3802, -84.2814}, {50, 0, -82.7485}), 1.0000, 5e-5);
  EXPECT_NEAR(d({50, 0, 0}, {50, -1, 2}), 2.3669, 5e-5);
  EXPECT_NEAR(d({50, 2.5, 0}, {73, 25, -18}), 27.1492, 5e-5);
  EXPECT_NEAR(d({50, 2.5, 0}, {56, -27, -3}), 31.9030, 5e-5);
  EXPECT_NEAR(d({60.2574, -34.0099, 36.2677}, {60.4626, -34.1751, 39.4387}), 1.2644, 5e-5);
}

Sheet grey(double transmit, double reflect) {
  Sheet sheet;
  sheet.optics = BandedOptics{{{"visible", symmetric(transmit, reflect)}}};
  return sheet;
}

TEST(Colour, AGreyPaneIsNeutralAndSaysThatItWasTakenForGrey) {
  const auto look = look_of({{grey(0.3, 0.05)}, {}});
  ASSERT_TRUE(look);
  EXPECT_TRUE(look->grey);
  EXPECT_NEAR(look->through.y, 0.3, 1e-12);
  const Lab through = lab(look->through);
  EXPECT_NEAR(through.a, 0, 1e-9);
  EXPECT_NEAR(through.b, 0, 1e-9);
}

TEST(Colour, FromOutsideThePaneMirrorsTheSkyAndShowsTheCabinTwiceDimmed) {
  const auto look = look_of({{grey(0.5, 0.1)}, {}});
  ASSERT_TRUE(look);
  EXPECT_NEAR(seen_from_outside(*look, {1, 0.2}).y, 0.1 + 0.2 * 0.5 * 0.5, 1e-12);
}

TEST(Colour, AGlassThatEatsRedLooksGreenish) {
  SpectralOptics spectrum;
  for (int nm = 380; nm <= 780; nm += 10) {
    spectrum.wavelengths.push_back(Nm{static_cast<double>(nm)});
    spectrum.values.push_back(symmetric(nm < 600 ? 0.8 : 0.5, 0.04));
  }
  Sheet glass;
  glass.optics = spectrum;
  const auto look = look_of({{glass}, {}});
  ASSERT_TRUE(look);
  EXPECT_FALSE(look->grey);
  EXPECT_LT(lab(look->through).a, -5);
}

}  // namespace
}  // namespace film::glazing
