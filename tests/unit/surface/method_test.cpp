#include "surface/method.h"

#include <gtest/gtest.h>

#include "support/surfaces.h"
#include "surface/flatten.h"

namespace film::surface {
namespace {

Method method_of(const TriMesh& mesh) {
  FlattenOptions options;
  options.mode = Mode::least_energy;
  options.grain = Vec3{1, 0, 0};
  const auto f = flatten(mesh, options, {});
  EXPECT_TRUE(f);
  const StrainReport strain = report_strain(mesh, f->flat, options.film);
  return choose_method(mesh, strain, reach(f->flat, options.film, {}), options.film);
}

TEST(Method, AFlatDoorIsCutBeforehand) {
  const TriMesh door = test::grid_surface(24, 16, [](double u, double v) {
    return Vec3{1000 * u, 4 * u * (1 - u), 650 * v + 8 * v * (1 - v)};
  });
  const Method m = method_of(door);
  EXPECT_EQ(m.choice, Choice::precut) << m.reasons.front();
  EXPECT_FALSE(m.reasons.empty());
}

TEST(Method, AHoodWhoseFrontCurlsIntoALipIsLaidAsASheet) {
  // Common practice, no source.
  const Method m = method_of(test::hood(1400, 1100, 10, 60, 2.2, 60, 30));
  EXPECT_EQ(m.choice, Choice::bulk);
  EXPECT_NE(m.reasons.front().find("lip"), std::string::npos) << m.reasons.front();
}

TEST(Method, TheSameHoodWithoutItsLipIsCutBeforehand) {
  const Method m = method_of(test::hood(1400, 1100, 10, 0, 0, 60, 30));
  EXPECT_EQ(m.choice, Choice::precut) << m.reasons.front();
}

TEST(Method, APanelWiderThanTheRollIsLaidAsASheet) {
  const Method m = method_of(test::hood(1535, 1250, 8, 0, 0, 40, 40));
  EXPECT_EQ(m.choice, Choice::bulk);
  EXPECT_NE(m.reasons.front().find("wider than the roll"), std::string::npos);
}

TEST(Method, ADomeIsLaidAsASheetForItsFingers) {
  const Method m = method_of(test::cap(300, 0.9, 16));
  EXPECT_EQ(m.choice, Choice::bulk);
}

}  // namespace
}  // namespace film::surface
