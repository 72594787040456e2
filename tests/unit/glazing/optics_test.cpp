#include "glazing/optics.h"

#include <gtest/gtest.h>

namespace film::glazing {
namespace {

// Source: worked example of LBNL's Windows-CalcEngine, DoubleLayerSingleComponent (a second layer
// added behind the first), stated to 1e-6.
TEST(Optics, TwoLayersAgreeWithThePublishedExample) {
  const Optics pair = combined({0.46, 0.52, 0.64, 0.22}, {0.56, 0.34, 0.49, 0.39});
  EXPECT_NEAR(pair.transmit_front, 0.278426286, 1e-6);
  EXPECT_NEAR(pair.reflect_front, 0.6281885, 1e-6);
  EXPECT_NEAR(pair.transmit_back, 0.33895374, 1e-6);
  EXPECT_NEAR(pair.reflect_back, 0.455248595, 1e-6);
}

TEST(Optics, NothingInFrontOrBehindChangesNothing) {
  const Optics layer{0.3, 0.2, 0.25, 0.4};
  EXPECT_EQ(combined(symmetric(1, 0), layer), layer);
  EXPECT_EQ(combined(layer, symmetric(1, 0)), layer);
}

TEST(Optics, MirrorsFacingEachOtherLetNothingThrough) {
  const Optics pair = combined(symmetric(0, 1), symmetric(0, 1));
  EXPECT_EQ(pair.transmit_front, 0);
  EXPECT_EQ(pair.reflect_front, 1);
}

TEST(Optics, TakingALayerAwayUndoesAddingIt) {
  const Optics front{0.7, 0.1, 0.65, 0.2};
  const Optics back{0.3, 0.25, 0.35, 0.15};
  const Optics found = without_front(combined(front, back), front);
  EXPECT_NEAR(found.transmit_front, back.transmit_front, 1e-14);
  EXPECT_NEAR(found.reflect_front, back.reflect_front, 1e-14);
  EXPECT_NEAR(found.transmit_back, back.transmit_back, 1e-14);
  EXPECT_NEAR(found.reflect_back, back.reflect_back, 1e-14);
  const Optics other = without_back(combined(front, back), back);
  EXPECT_NEAR(other.transmit_front, front.transmit_front, 1e-14);
  EXPECT_NEAR(other.reflect_back, front.reflect_back, 1e-14);
}

// Source: closed form for an incoherent slab, e.g. E. Hecht, Optics; H. A. Macleod, Thin-Film
// Optical Filters: T = (1 - r)^2 t / (1 - r^2 t^2).
TEST(Optics, AClearSheetHasTheClosedFormOfASlab) {
  const double r = fresnel_reflectance(1, 1.52);
  EXPECT_NEAR(r, 0.0425799, 1e-7);  // (0.52 / 2.52)^2
  for (const double t : {1.0, 0.9, 0.3, 0.0}) {
    const Optics sheet = clear_sheet(1.52, t);
    const double through = (1 - r) * (1 - r) * t / (1 - r * r * t * t);
    EXPECT_NEAR(sheet.transmit_front, through, 1e-15);
    EXPECT_NEAR(sheet.reflect_front, r + r * t * through, 1e-15);
    EXPECT_EQ(sheet, turned(sheet));
  }
}

}  // namespace
}  // namespace film::glazing
