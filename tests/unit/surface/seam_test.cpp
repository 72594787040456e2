#include "surface/seam.h"

#include <gtest/gtest.h>

#include "support/surfaces.h"
#include "surface/flatten.h"

namespace film::surface {
namespace {

Result<SeamPlan> seams_of(const TriMesh& mesh, const SeamOptions& options = {}) {
  FlattenOptions flatten_options;
  flatten_options.mode = Mode::least_energy;
  flatten_options.grain = Vec3{1, 0, 0};
  const auto flat = flatten(mesh, flatten_options, {});
  EXPECT_TRUE(flat);
  return plan_seams(mesh, flat->flat, flatten_options.film, options, {});
}

TriMesh plate(double length, double width) {
  return test::grid_surface(40, 40, [=](double u, double v) {
    return Vec3{length * u, width * v, 20 * u * (1 - u)};
  });
}

TEST(Seams, APanelThatTheRollReachesGetsNone) {
  const auto plan = seams_of(plate(1500, 1500));
  ASSERT_TRUE(plan);
  EXPECT_TRUE(plan->seams.empty());
  EXPECT_TRUE(plan->covered);
  EXPECT_EQ(plan->parts.size(), 1u);
}

TEST(Seams, APanelTwiceAsWideAsTheRollIsPartedOnceTwice) {
  for (const auto& [width, seams] : {std::pair{2400.0, 1u}, std::pair{3600.0, 2u}}) {
    const auto plan = seams_of(plate(1200, width));
    ASSERT_TRUE(plan);
    EXPECT_EQ(plan->seams.size(), seams) << plan->words;
    EXPECT_TRUE(plan->covered) << plan->words;
    double area = 0;
    for (const SeamPart& part : plan->parts) {
      EXPECT_TRUE(part.reach.fits);
      area += part.area;
    }
    EXPECT_NEAR(area, surface_area(plate(1200, width)), 1e-6 * area);
    // A straight line from edge to edge is as short as it gets.
    for (const Seam& seam : plan->seams) EXPECT_LT(seam.length.value, 1.1 * 1200);
  }
}

TEST(Seams, TheSeamRunsWhereItShowsLittle) {
  const TriMesh wide = plate(1200, 2400);
  SeamOptions options;
  for (const Vec3 p : wide.points) {
    options.visibility.push_back(std::abs(p.y - 1320) < 61 ? 0.1 : 1.0);  // a body line
  }
  const auto plan = seams_of(wide, options);
  ASSERT_TRUE(plan);
  ASSERT_EQ(plan->seams.size(), 1u);
  EXPECT_LT(plan->seams[0].visibility, 0.3);
  EXPECT_NEAR(plan->seams[0].on_panel[plan->seams[0].on_panel.size() / 2].y, 1320, 70);
}

TEST(Seams, AHemisphereIsPartedUntilTheFilmTakesIt) {
  const auto plan = seams_of(test::cap(150, 1.45, 16));
  ASSERT_TRUE(plan);
  EXPECT_FALSE(plan->seams.empty());
  for (const Seam& seam : plan->seams) {
    EXPECT_GT(seam.on_panel.size(), 2u);
    EXPECT_NE(seam.words.find("6 mm"), std::string::npos);  // the overlap is stated
  }
}

}  // namespace
}  // namespace film::surface
