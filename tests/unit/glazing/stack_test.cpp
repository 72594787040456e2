#include "glazing/stack.h"

#include <numeric>

#include <gtest/gtest.h>

#include "glazing/heat.h"
#include "unit/glazing/tables.h"

namespace film::glazing {
namespace {

// Generic clear glass, T, Rf, Rb. Source: LBNL pyWinCalc, examples (NFRC 102 and 103).
Sheet clear_glass(const std::string& name) {
  SpectralOptics spectrum;
  for (const auto& row : rows_of(name)) {
    spectrum.wavelengths.push_back(Nm{row[0]});
    spectrum.values.push_back({row[1], row[2], row[1], row[3]});
  }
  Sheet sheet;
  sheet.id = name;
  sheet.optics = spectrum;
  return sheet;
}

Stack single(Sheet sheet) { return {{std::move(sheet)}, {}}; }

Sheet banded(const std::string& id, const Optics& optics, double index = 1.52) {
  Sheet sheet;
  sheet.id = id;
  sheet.optics = BandedOptics{{{"visible", optics}, {"solar", optics}}};
  sheet.front_index = sheet.back_index = index;
  return sheet;
}

constexpr Joint kAir{Joint::Kind::air, 0.17};
constexpr Joint kBond{Joint::Kind::bonded, 0};

StackOptics at_once(const std::vector<SheetOptics>& sheets, const std::vector<Joint>& joints) {
  return stacked(sheets, joints);
}

SheetOptics sheet_of(const Optics& optics, double index = 1.52) {
  return {optics, index, index, false, {}, 0};
}

// Source: LBNL's Windows-CalcEngine, test MultiPaneSpecular_102_103_EN410, stated to 1e-6. Its
// trapezoid rule runs over weights that already contain their step, so these are no answers of
// EN 410; the example holds the integrator and the layer algebra only. To follow it the weights
// must be declared a density by force.
TEST(Stack, TheIntegratorAgreesWithThePublishedExample) {
  const BandWeights& solar = solar_weights();
  const SpectralDensity by_force{"solar", "", solar.wavelengths, solar.weights};
  const Stack stack{
      {clear_glass("glass_generic_clear_3mm.csv"), clear_glass("glass_generic_clear_6mm.csv")},
      {kAir}};
  const auto result = average_of(stack, weights_of(by_force));
  ASSERT_TRUE(result);
  EXPECT_EQ(result->method, Method::spectral);
  EXPECT_NEAR(result->optics.total.transmit_front, 0.621741, 1e-6);
  EXPECT_NEAR(result->optics.total.reflect_front, 0.119697, 1e-6);
  EXPECT_NEAR(result->optics.total.reflect_back, 0.110757, 1e-6);
  EXPECT_NEAR(result->optics.absorbed[0], 0.113512, 1e-6);
  EXPECT_NEAR(result->optics.absorbed[1], 0.145050, 1e-6);
  // The plain sum, as the weights are meant.
  EXPECT_NEAR(average_of(stack, solar)->optics.total.transmit_front, 0.662229, 1e-6);
}

// No published figure: computed once elsewhere from the same data (shared glazing notes, example
// C). Outside check: EnergyPlus "CLEAR 3MM" has 0.898 visible, 0.837 solar (another sample, 0.005).
TEST(Stack, ClearGlassStaysAsItWas) {
  const Stack stack = single(clear_glass("glass_generic_clear_3mm.csv"));
  const auto visible = average_of(stack, visible_weights());
  const auto solar = average_of(stack, solar_weights());
  EXPECT_NEAR(visible->optics.total.transmit_front, 0.89925, 5e-5);
  EXPECT_NEAR(visible->optics.total.transmit_front, 0.898, 0.005);
  EXPECT_NEAR(solar->optics.total.transmit_front, 0.83523, 5e-6);
  EXPECT_NEAR(solar->optics.total.transmit_front, 0.837, 0.005);
  EXPECT_NEAR(solar->optics.total.reflect_front, 0.07574, 5e-6);
  const HeatGain heat = heat_gain(solar->optics, stack.joints, {"", 23, 8});
  EXPECT_NEAR(heat.gain, 0.85820, 5e-6);
  EXPECT_NEAR(heat.rejected, 1 - 0.85820, 5e-6);
}

TEST(Stack, AFilmOfNothingBondedToGlassChangesNothing) {
  const Optics glass = clear_sheet(1.52, 0.9);
  const Optics film = clear_sheet(1.52, 1.0);  // no thickness: two faces, nothing between
  const StackOptics both = at_once({sheet_of(glass), sheet_of(film)}, {kBond});
  EXPECT_NEAR(both.total.transmit_front, glass.transmit_front, 1e-14);
  EXPECT_NEAR(both.total.reflect_front, glass.reflect_front, 1e-14);
  EXPECT_NEAR(both.total.reflect_back, glass.reflect_back, 1e-14);
  EXPECT_NEAR(both.absorbed[1], 0, 1e-14);
}

// Two clear sheets of one index glued together are one thicker sheet. Source: closed form of the
// slab (optics_test).
TEST(Stack, AnIndexMatchedFilmMakesOneThickerSheet) {
  const StackOptics both =
      at_once({sheet_of(clear_sheet(1.52, 0.8)), sheet_of(clear_sheet(1.52, 0.5))}, {kBond});
  const Optics one = clear_sheet(1.52, 0.4);
  EXPECT_NEAR(both.total.transmit_front, one.transmit_front, 1e-14);
  EXPECT_NEAR(both.total.reflect_front, one.reflect_front, 1e-14);
  EXPECT_NEAR(both.total.transmit_back, one.transmit_back, 1e-14);
}

// With different indices one weak boundary stays between them. Reference: all reflections of the
// five parts added up by hand with the same algebra, part by part.
TEST(Stack, AFilmOfAnotherIndexKeepsOneWeakBoundary) {
  const StackOptics both =
      at_once({sheet_of(clear_sheet(1.52, 0.8)), sheet_of(clear_sheet(1.65, 0.5), 1.65)}, {kBond});
  Optics parts = boundary(1, 1.52);
  for (const Optics& part :
       {symmetric(0.8, 0), boundary(1.52, 1.65), symmetric(0.5, 0), boundary(1.65, 1)}) {
    parts = combined(parts, part);
  }
  EXPECT_NEAR(both.total.transmit_front, parts.transmit_front, 1e-14);
  EXPECT_NEAR(both.total.reflect_front, parts.reflect_front, 1e-14);
  EXPECT_NEAR(both.total.reflect_back, parts.reflect_back, 1e-14);
}

TEST(Stack, APerfectAbsorberTakesUpAllThatReachesIt) {
  const Optics glass = clear_sheet(1.52, 0.9);
  const double r = fresnel_reflectance(1, 1.52);
  const StackOptics both = at_once({sheet_of(glass), sheet_of(clear_sheet(1.52, 0.0))}, {kBond});
  EXPECT_NEAR(both.total.transmit_front, 0, 1e-15);
  EXPECT_NEAR(both.total.reflect_front, r, 1e-14);
  EXPECT_NEAR(both.absorbed[0], (1 - r) * 0.1, 1e-14);
  EXPECT_NEAR(both.absorbed[1], (1 - r) * 0.9, 1e-14);
}

// 'Glass times film' counts two faces that the bond takes away.
TEST(Stack, ABondLetsMoreThroughThanTheProductOfBoth) {
  const Optics glass = clear_sheet(1.52, 0.9);
  const Optics film = clear_sheet(1.52, 0.4);
  const StackOptics both = at_once({sheet_of(glass), sheet_of(film)}, {kBond});
  const double product = glass.transmit_front * film.transmit_front;
  EXPECT_GT(both.total.transmit_front, product * 1.05);
}

// A film measured on one glass and moved to another must come out as if it had been measured free.
TEST(Stack, AFilmMeasuredOnGlassMovesToOtherGlass) {
  const Optics film =
      combined(combined(boundary(1, 1.52), Optics{0.3, 0.25, 0.3, 0.1}), boundary(1.52, 1));
  const SheetOptics free_film = sheet_of(film);
  const Optics reference = clear_sheet(1.52, 0.95);
  const Optics measured = at_once({sheet_of(reference), free_film}, {kBond}).total;
  SheetOptics on_glass = sheet_of(measured);
  on_glass.on_reference = true;
  on_glass.reference = reference;
  on_glass.reference_index = 1.52;
  const SheetOptics other = sheet_of(clear_sheet(1.52, 0.7));
  const StackOptics right = at_once({other, free_film}, {kBond});
  const StackOptics moved = at_once({other, on_glass}, {kBond});
  EXPECT_NEAR(moved.total.transmit_front, right.total.transmit_front, 1e-13);
  EXPECT_NEAR(moved.total.reflect_front, right.total.reflect_front, 1e-13);
  EXPECT_NEAR(moved.total.reflect_back, right.total.reflect_back, 1e-13);
  EXPECT_NEAR(moved.absorbed[1], right.absorbed[1], 1e-13);
}

TEST(Stack, BandsAreUsedWhereASheetHasNoSpectrum) {
  const Stack stack{
      {clear_glass("glass_generic_clear_3mm.csv"), banded("film", symmetric(0.35, 0.06))}, {kBond}};
  const auto visible = average_of(stack, visible_weights());
  ASSERT_TRUE(visible);
  EXPECT_EQ(visible->method, Method::banded);
  const auto uv = average_of(stack, ultraviolet_weights());
  ASSERT_FALSE(uv);
  EXPECT_EQ(uv.error().where, "layer film");
}

TEST(Heat, ItGoesInByConductance) {
  // One pane: hi / (he + hi) of what it takes up. Source: EN 410, secondary heat transfer (from
  // memory).
  const StackOptics pane{symmetric(0.5, 0.1), {0.4}};
  const HeatGain heat = heat_gain(pane, {}, {"", 23, 8});
  EXPECT_NEAR(heat.inward[0], 8.0 / 31.0, 1e-15);
  EXPECT_NEAR(heat.gain, 0.5 + 0.4 * 8.0 / 31.0, 1e-15);
  EXPECT_NEAR(heat.gain + heat.rejected, 1, 1e-15);
  // Two panes: the inner gives off more inside than the outer; a bonded film as much as its pane.
  const HeatGain two = heat_gain({symmetric(0.3, 0.1), {0.3, 0.3}}, {kAir}, {"", 23, 8});
  EXPECT_NEAR(two.inward[0], (1.0 / 23) / (1.0 / 23 + 0.17 + 1.0 / 8), 1e-15);
  EXPECT_NEAR(two.inward[1], (1.0 / 23 + 0.17) / (1.0 / 23 + 0.17 + 1.0 / 8), 1e-15);
  const HeatGain bonded = heat_gain({symmetric(0.3, 0.1), {0.3, 0.3}}, {kBond}, {"", 23, 8});
  EXPECT_EQ(bonded.inward[0], bonded.inward[1]);
}

TEST(Heat, AMovingPaneIsCooledMore) {
  const StackOptics pane{symmetric(0.3, 0.1), {0.6}};
  EXPECT_LT(heat_gain(pane, {}, moving(28)).gain, heat_gain(pane, {}, stationary()).gain);
  EXPECT_GT(moving(28).outside, 100);
}

}  // namespace
}  // namespace film::glazing
