#include "surface/tension.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "support/annulus.h"
#include "support/surfaces.h"
#include "surface/detail/relaxed.h"
#include "surface/strain.h"

namespace film::surface {
namespace {

FilmProperties orthotropic() {
  FilmProperties film;
  film.stiffness_ratio = 3;
  film.contraction = 0.3;
  return film;
}

TEST(Tension, ATwistedRingWrinklesAlongTheTangentsOfOneCircle) {
  // Exact solution: tests/support/annulus.h. Largest differences measured: 0.24 % of the energy,
  // 0.7 % of the stress, 0.004 rad.
  const test::TwistedRing ring;
  const TriMesh mesh = ring.mesh(180, 24);
  FilmProperties film;
  film.contraction = 0;
  TensionOptions options;
  options.folding_cost = 1e-5;
  const auto field = settle(mesh, ring.film(mesh), film, options, {});
  ASSERT_TRUE(field) << field.error().message();
  const test::TwistedRing::Differences off = ring.compare(mesh, field->triangles);
  EXPECT_NEAR(field->energy / ring.energy(), 1, 0.02);
  EXPECT_LT(off.stress, 0.02);
  EXPECT_LT(off.direction, 0.02);
  EXPECT_EQ(field->taut_area + field->slack_area, 0);
}

TEST(Tension, RelaxedEnergyIsTheLeastOverAllFolds) {
  // Slow and obvious: the least of W(E + A) over a grid of A = a m m^T, with and without a second
  // fold across it.
  Rng rng(11);
  const detail::RelaxedFilm film(orthotropic());
  for (int i = 0; i < 40; ++i) {
    const auto strain = [&] { return rng.uniform(-0.05, 0.05); };
    const detail::Sym2 e{strain(), strain(), strain()};
    double least = film.elastic(e);
    for (int k = 0; k < 180; ++k) {
      const double angle = std::numbers::pi * k / 180;
      const double c = std::cos(angle);
      const double s = std::sin(angle);
      for (int a = 0; a <= 60; ++a) {
        for (int b = 0; b <= 60; b += 4) {
          const double p = 0.12 * a / 60;
          const double q = 0.12 * b / 60;
          least =
              std::min(least, film.elastic({e[0] + p * c * c + q * s * s,
                                            e[1] + p * s * s + q * c * c, e[2] + (p - q) * c * s}));
        }
      }
    }
    const double relaxed = film.relax(e).value;
    EXPECT_LE(relaxed, least + 1e-15);
    EXPECT_GE(relaxed, least - 2e-5);
  }
}

TEST(Tension, StressAndStiffnessAreTheDerivativesOfTheRelaxedEnergy) {
  Rng rng(5);
  const detail::RelaxedEnergy energy(orthotropic(), 0.01);
  for (int i = 0; i < 200; ++i) {
    detail::Mat2 j;
    for (Eigen::Index k = 0; k < 4; ++k) j.data()[k] = rng.uniform(-0.04, 0.04);
    j += detail::Mat2::Identity();
    const detail::Derivatives exact = energy.derive(j);
    for (Eigen::Index k = 0; k < 4; ++k) {
      constexpr double kStep = 1e-6;
      detail::Mat2 up = j;
      detail::Mat2 down = j;
      up.data()[k] += kStep;
      down.data()[k] -= kStep;
      EXPECT_NEAR(exact.gradient.data()[k], (energy.value(up) - energy.value(down)) / (2 * kStep),
                  1e-8);
    }
  }
}

/// A flat sheet whose film is longer than the panel along x by a share that grows from nothing at
/// its lower edge, so that folds run along y from the upper edge down.
struct Fan {
  TriMesh mesh = test::grid_surface(40, 40, [](double u, double v) {
    return Vec3{400 * u, 400 * v, 0};
  });
  std::vector<Vec2> flat;
  Fan() {
    for (const Vec3& p : mesh.points) {
      flat.push_back({(p.x - 200) * (1 + 0.04 * std::max(p.y - 200, 0.0) / 200), p.y});
    }
  }
};

TEST(Tension, FilmTooLongAlongAnEdgeFoldsAcrossThatEdge) {
  const Fan fan;
  const auto field = settle(fan.mesh, fan.flat, {}, {}, {});
  ASSERT_TRUE(field) << field.error().message();
  ASSERT_FALSE(field->areas.empty());
  const FingerArea& area = field->areas.front();
  // The film is 1600 mm^2 larger than the panel, and is stretched somewhat on top.
  EXPECT_GT(area.surplus, 1400);
  EXPECT_LT(area.surplus, 3200);
  EXPECT_GE(area.fingers.size(), 10u);
  EXPECT_LE(area.fingers.size(), 25u);
  // Two hundred millimetres of the sheet have film to lose; the threshold hides the first eighth.
  EXPECT_GT(area.fingers.front().length, 120);
  EXPECT_LT(area.fingers.front().length, 230);
  for (const Finger& finger : area.fingers) {
    const Vec2 run = finger.on_film.back() - finger.on_film.front();
    EXPECT_GT(std::abs(run.y), 0.8 * length(run));
  }
}

TEST(Tension, TheReportTellsOfFingers) {
  const Fan fan;
  const auto field = settle(fan.mesh, fan.flat, {}, {}, {});
  ASSERT_TRUE(field);
  const StrainReport report = report_strain(fan.mesh, fan.flat, {}, *field);
  EXPECT_GT(report.fingers, 9u);
  EXPECT_NE(report.verdict.find(" fingers, up to "), std::string::npos) << report.verdict;
}

TEST(Tension, PulledFilmGrowsNarrowerWithoutFolding) {
  const TriMesh mesh = test::grid_surface(6, 6, [](double u, double v) {
    return Vec3{100 * u, 100 * v, 0};
  });
  FilmProperties film;
  film.contraction = 0.4;
  std::vector<Vec2> flat;
  for (const Vec3& p : mesh.points) flat.push_back({p.x / 1.05, p.y / 0.985});
  const auto field = settle(mesh, flat, film, {}, {});
  ASSERT_TRUE(field);
  EXPECT_NEAR(field->taut_area, 10000, 1e-6);
  EXPECT_EQ(report_strain(mesh, flat, film, *field).fingers, 0u);
  EXPECT_GT(report_strain(mesh, flat, film).finger_area, 9999);
}

TEST(Tension, RefusesWhatIsNoFlatShapeOfTheSurface) {
  const Fan fan;
  EXPECT_FALSE(settle(fan.mesh, std::span(fan.flat).first(10), {}, {}, {}));
  std::vector<Vec2> turned = fan.flat;
  for (Vec2& p : turned) p.x = -p.x;
  EXPECT_FALSE(settle(fan.mesh, turned, {}, {}, {}));
  const auto stopped = settle(fan.mesh, fan.flat, {}, {}, Context([] { return true; }));
  ASSERT_FALSE(stopped);
  EXPECT_EQ(stopped.error().code, ErrorCode::cancelled);
}

}  // namespace
}  // namespace film::surface
