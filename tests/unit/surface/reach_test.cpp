#include "surface/reach.h"

#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "support/surfaces.h"
#include "surface/flatten.h"

namespace film::surface {
namespace {

std::vector<Vec2> rectangle(double along, double across) {
  return {{0, 0}, {along, 0}, {along, across}, {0, across}};
}

TEST(Reach, ANarrowPieceNeedsNoStretch) {
  const Reach r = reach(rectangle(2000, 1500), {}, {});
  EXPECT_TRUE(r.fits);
  EXPECT_EQ(r.stretch_needed, 1);
  EXPECT_DOUBLE_EQ(r.length.value, 2000);
}

TEST(Reach, ACylinderWiderThanTheRollNeedsExactlyTheRatio) {
  // Closed form: arc over roll width; the mesh itself is 78 chords wide.
  constexpr std::size_t kArcs = 78;
  const TriMesh mesh = test::cylinder(1000, 1.56, 1000, kArcs, 10);
  FlattenOptions options;
  options.grain = Vec3{0, 1, 0};
  const auto f = flatten(mesh, options, {});
  ASSERT_TRUE(f);
  const Reach r = reach(f->flat, {}, {});
  const double chords = kArcs * 2000 * std::sin(1.56 / 2 / kArcs);
  EXPECT_NEAR(r.stretch_needed, chords / 1524, 1e-9);
  EXPECT_TRUE(r.fits);
  EXPECT_GT(r.length.value, 1000) << "pulled wider, the film grows shorter";
}

TEST(Reach, AHoodALittleWiderThanTheRollIsReachedByHalfAnInch) {
  // Common practice, no source: a 60 in roll, a hood a little over 60 in, about half an inch.
  const TriMesh mesh = test::hood(1533, 1250, 12, 0, 0, 30, 30);
  FlattenOptions options;
  options.grain = Vec3{1, 0, 0};
  const auto f = flatten(mesh, options, {});
  ASSERT_TRUE(f);
  const Reach r = reach(f->flat, {}, {});
  EXPECT_TRUE(r.fits);
  EXPECT_GT(r.stretch_needed, 1);
  EXPECT_LT(r.stretch_needed, 1.01);
  EXPECT_NEAR((r.width.value - 1524) / 25.4, 0.5, 0.2);
}

TEST(Reach, TooWideSaysWhichRollWouldDo) {
  const Reach r = reach(rectangle(1000, 1800), {}, {});
  EXPECT_FALSE(r.fits);
  EXPECT_NEAR(r.least_width.value, 1800 / 1.1, 1e-9);
  ReachOptions wider;
  wider.roll_width = r.least_width;
  EXPECT_TRUE(reach(rectangle(1000, 1800), {}, wider).fits);
}

TEST(Reach, MarginsNarrowTheRoll) {
  ReachOptions options;
  options.margin = Mm{12};
  EXPECT_NEAR(reach(rectangle(1000, 1510), {}, options).stretch_needed, 1510.0 / 1500, 1e-12);
}

TEST(Reach, TurnsOnlyAsFarAsTheGrainAllows) {
  ReachOptions options;
  const auto tall = rectangle(1000, 1800);
  options.turning = Turning::square;
  EXPECT_NEAR(reach(tall, {}, options).width.value, 1000, 1e-9);
  options.turning = Turning::along;
  // A rectangle leaning by 2 degrees is straightened when the tolerance allows it.
  std::vector<Vec2> leaning;
  const double lean = 2 * std::numbers::pi / 180;
  for (const Vec2 p : rectangle(1000, 500)) {
    leaning.push_back(
        {p.x * std::cos(lean) - p.y * std::sin(lean), p.x * std::sin(lean) + p.y * std::cos(lean)});
  }
  EXPECT_GT(reach(leaning, {}, options).width.value, 530);
  options.tolerance = Angle::from_degrees(3);
  EXPECT_NEAR(reach(leaning, {}, options).width.value, 500, 1e-9);
  EXPECT_NEAR(reach(leaning, {}, options).turn.degrees(), -2, 1e-9);
}

TEST(Reach, ARollNarrowerThanItsMarginsReachesNothing) {
  ReachOptions options;
  options.roll_width = Mm{20};
  options.margin = Mm{10};
  EXPECT_FALSE(reach(rectangle(10, 10), {}, options).fits);
}

}  // namespace
}  // namespace film::surface
