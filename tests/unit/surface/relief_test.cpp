#include "surface/relief.h"

#include <gtest/gtest.h>

#include "support/surfaces.h"
#include "surface/method.h"

namespace film::surface {
namespace {

Flattening laid(const TriMesh& mesh, const FilmProperties& film = {}) {
  FlattenOptions options;
  options.mode = Mode::least_energy;
  options.film = film;
  options.grain = Vec3{1, 0, 0};
  auto flat = flatten(mesh, options, {});
  EXPECT_TRUE(flat);
  return std::move(*flat);
}

Relieved relieved(const TriMesh& mesh, const ReliefOptions& options = {}) {
  const FilmProperties film;
  auto result = plan_relief(mesh, laid(mesh).flat, film, options, {});
  EXPECT_TRUE(result);
  return std::move(*result);
}

TEST(Relief, ACylinderNeedsNone) {
  const Relieved r = relieved(test::cylinder(300, 1.5, 500, 20, 10));
  EXPECT_TRUE(r.plan.cuts.empty());
  EXPECT_LT(r.plan.surplus_before, 1e-6);
  EXPECT_NE(r.plan.words.find("No relief cut is needed"), std::string::npos) << r.plan.words;
}

TEST(Relief, ADomeIsOpenedFromItsRimAndEachCutPays) {
  // The rim of a cap's film is too long (hoop surplus: Gauss-Bonnet), so wedges open there.
  const ReliefOptions options;
  const Relieved r = relieved(test::cap(300, 0.9, 20), options);
  ASSERT_FALSE(r.plan.cuts.empty());
  EXPECT_LT(r.plan.surplus_after, 0.5 * r.plan.surplus_before);
  double removed = 0;
  for (const ReliefCut& cut : r.plan.cuts) {
    EXPECT_GT(cut.opening.value, 0.1);
    EXPECT_GE(cut.surplus, options.least_gain.value * cut.length.value * cut.visibility * 0.999);
    EXPECT_NEAR(cut.gain_per_cm, 10 * cut.surplus / cut.length.value, 1e-9);
    EXPECT_EQ(cut.on_panel.size(), cut.on_film.size());
    // From the rim, at the polar angle 0.9, inwards.
    EXPECT_NEAR(cut.on_panel.front().z, 300 * std::cos(0.9), 1e-6);
    EXPECT_GT(cut.on_panel.back().z, cut.on_panel.front().z);
    removed += cut.surplus;
  }
  EXPECT_NEAR(removed, r.plan.surplus_before - r.plan.surplus_after, 1e-6 * removed);
  EXPECT_EQ(r.flattening.flips, 0u);
  EXPECT_EQ(r.flattening.boundary_crossings, 0u);
}

TEST(Relief, ASaddleGetsNoneForItsFilmIsShortAtTheEdge) {
  // Negative curvature: wedges would have to be put in, not taken out.
  const TriMesh saddle = test::disk_surface(18, [](double share, double azimuth) {
    const double x = 250 * share * std::cos(azimuth);
    const double y = 250 * share * std::sin(azimuth);
    return Vec3{x, y, (x * x - y * y) / 500};
  });
  EXPECT_TRUE(relieved(saddle).plan.cuts.empty());
}

TEST(Relief, CutsGoWhereTheyShowLittle) {
  const TriMesh dome = test::cap(300, 0.9, 20);
  ReliefOptions options;
  for (const Vec3 p : dome.points) options.visibility.push_back(p.x < -20 ? 0.1 : 1.0);
  options.greatest_cuts = 2;
  const Relieved r = relieved(dome, options);
  ASSERT_EQ(r.plan.cuts.size(), 2u);
  for (const ReliefCut& cut : r.plan.cuts) EXPECT_LT(cut.on_panel.front().x, 0);
}

TEST(Relief, ADearerCutIsMadeLessOften) {
  const TriMesh dome = test::cap(300, 0.7, 16);
  ReliefOptions cheap;
  ReliefOptions dear;
  dear.least_gain = Mm{1000};
  EXPECT_FALSE(relieved(dome, cheap).plan.cuts.empty());
  const Relieved none = relieved(dome, dear);
  EXPECT_TRUE(none.plan.cuts.empty());
  EXPECT_NE(none.plan.words.find("No relief cut pays"), std::string::npos) << none.plan.words;
}

TEST(Relief, CanBeStopped) {
  const TriMesh dome = test::cap(300, 0.9, 12);
  const auto flat = laid(dome).flat;
  const auto r = plan_relief(dome, flat, {}, {}, Context([] { return true; }));
  ASSERT_FALSE(r);
  EXPECT_EQ(r.error().code, ErrorCode::cancelled);
}

TEST(Relief, HiddenCutsLeaveADomePreCut) {
  const TriMesh dome = test::cap(900, 0.42, 18);
  const FilmProperties film;
  const Flattening flat = laid(dome, film);
  const StrainReport strain = report_strain(dome, flat.flat, film);
  const Reach roll = reach(flat.flat, film, {});
  ASSERT_EQ(choose_method(dome, strain, roll, film).choice, Choice::bulk);
  ReliefOptions options;
  options.visibility.assign(dome.points.size(), 0.05);
  const auto r = plan_relief(dome, flat.flat, film, options, {});
  ASSERT_TRUE(r);
  const Method method = choose_method(dome, strain, roll, film, &*r);
  EXPECT_EQ(method.choice, Choice::precut) << method.reasons.front();
  options.visibility.assign(dome.points.size(), 1.0);
  const auto seen = plan_relief(dome, flat.flat, film, options, {});
  ASSERT_TRUE(seen);
  EXPECT_EQ(choose_method(dome, strain, roll, film, &*seen).choice, Choice::bulk);
}

}  // namespace
}  // namespace film::surface
