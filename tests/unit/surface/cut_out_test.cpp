#include "surface/cut_out.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "support/surfaces.h"
#include "surface/clean.h"

namespace film::surface {
namespace {

constexpr double kPi = std::numbers::pi;

CutOutOptions round_these(std::vector<Vec3> points) {
  CutOutOptions options;
  options.points = std::move(points);
  return options;
}

TriMesh plate() {
  return test::grid_surface(17, 11, [](double u, double v) { return Vec3{170 * u, 110 * v, 0}; });
}

void expect_sound(const CutOut& made) {
  CleanOptions options;
  options.weld = Mm{0};
  const auto clean = surface::clean(made.panel, options, {});
  ASSERT_TRUE(clean.has_value()) << clean.error().message();
  EXPECT_EQ(clean->mesh.triangles.size(), made.panel.triangles.size());
  // The runs cover the boundary: each ends where another starts, and their lengths add up.
  double around = 0, runs = 0;
  for (const auto& loop : boundary_loops(made.panel)) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      around +=
          distance(made.panel.points[loop[i]], made.panel.points[loop[(i + 1) % loop.size()]]);
    }
  }
  for (const BoundaryRun& run : made.boundary) runs += run.length;
  EXPECT_NEAR(around, runs, 1e-6);
}

// Plane geometry: the panel is the polygon drawn.
TEST(CutOut, OnAPlaneHasTheAreaOfThePolygonDrawn) {
  Rng rng(11);
  for (int round = 0; round < 30; ++round) {
    std::vector<Vec3> points;
    const int corners = 3 + static_cast<int>(rng.below(6));
    double area = 0;
    for (int k = 0; k < corners; ++k) {
      const double angle = 2 * kPi * (k + 0.7 * rng.uniform()) / corners;
      const double r = rng.uniform(15, 40);
      points.push_back({85 + r * std::cos(angle), 55 + r * std::sin(angle), 0});
    }
    for (std::size_t k = 0; k < points.size(); ++k) {
      const Vec3 p = points[k], q = points[(k + 1) % points.size()];
      area += (p.x * q.y - q.x * p.y) / 2;
    }
    const auto made = cut_out(plate(), round_these(points));
    ASSERT_TRUE(made.has_value()) << made.error().message();
    expect_sound(*made);
    EXPECT_NEAR(surface_area(made->panel), area, 1);  // lines may pass through near vertices
    ASSERT_EQ(made->boundary.size(), points.size());
    for (const BoundaryRun& run : made->boundary) EXPECT_EQ(run.boundary, Boundary::drawn);
  }
}

TEST(CutOut, KeepsWhatEachStretchOfTheBoundaryWas) {
  TriMesh mesh = plate();
  std::erase_if(mesh.triangles, [&mesh](const Triangle& t) {  // an opening, 20 x 10 mm
    const Vec3 m = (mesh.points[t[0]] + mesh.points[t[1]] + mesh.points[t[2]]) / 3;
    return m.x > 70 && m.x < 90 && m.y > 50 && m.y < 60;
  });
  CutOutOptions options = round_these({{0, 30, 0}, {150, 30, 0}, {150, 110, 0}, {0, 110, 0}});
  options.inside = Vec3{100, 80, 0};
  const auto made = cut_out(mesh, options);
  ASSERT_TRUE(made.has_value()) << made.error().message();
  expect_sound(*made);
  EXPECT_NEAR(surface_area(made->panel), 150 * 80 - 200, 1e-6);
  ASSERT_EQ(made->boundary.size(), 5U);  // legs 1 to 4 lie partly on the plate's rim, and are drawn
  const BoundaryRun& opening = made->boundary.back();
  EXPECT_EQ(opening.boundary, Boundary::rim);
  EXPECT_TRUE(opening.of_opening);
  EXPECT_NEAR(opening.length, 60, 1e-9);
}

TEST(CutOut, EndsAtCreasesAndSaysWhichWayTheyTurn) {
  // A box lid: a flat top, 100 x 80 mm, its sides bent down by a right angle.
  const TriMesh lid = test::grid_surface(14, 12, [](double u, double v) {
    const double x = 140 * u - 20, y = 120 * v - 20;
    const double out_x = std::max({-x, x - 100, 0.0}), out_y = std::max({-y, y - 80, 0.0});
    return Vec3{std::clamp(x, 0.0, 100.0), std::clamp(y, 0.0, 80.0), -out_x - out_y};
  });
  CutOutOptions options;
  options.crease = Angle{0.7};
  options.inside = Vec3{50, 40, 0};
  const auto made = cut_out(lid, options);
  ASSERT_TRUE(made.has_value()) << made.error().message();
  EXPECT_NEAR(surface_area(made->panel), 8000, 1e-6);
  for (const BoundaryRun& run : made->boundary) {
    EXPECT_EQ(run.boundary, Boundary::crease);
    EXPECT_TRUE(run.turns_away);
  }
}

// The area of a spherical triangle with three right angles is an eighth of the sphere.
TEST(CutOut, ATriangleOfGreatCirclesHasItsExcessAsArea) {
  const double radius = 400;
  const double exact = kPi / 2 * radius * radius;
  double off[2] = {0, 0};
  for (const std::size_t fine : {0U, 1U}) {
    const TriMesh cap = test::cap(radius, 0.9 * kPi, fine == 0 ? 60 : 150);
    const Vec3 centre = cap.points[0] - Vec3{0, 0, radius};
    const auto made =
        cut_out(cap, round_these({centre + Vec3{0, 0, radius}, centre + Vec3{radius, 0, 0},
                                  centre + Vec3{0, radius, 0}}));
    ASSERT_TRUE(made.has_value()) << made.error().message();
    expect_sound(*made);
    off[fine] = std::abs(surface_area(made->panel) - exact) / exact;
    EXPECT_NEAR(made->line_length, 3 * kPi / 2 * radius, 2e-3 * 3 * kPi / 2 * radius);
  }
  EXPECT_LT(off[0], 5e-3);
  EXPECT_LT(off[1], off[0] / 2);
}

TEST(CutOut, RefusesLinesThatCannotBeCut) {
  const TriMesh mesh = plate();
  EXPECT_FALSE(cut_out(mesh, round_these({{10, 10, 0}, {50, 10, 0}})).has_value());
  EXPECT_FALSE(cut_out(mesh, round_these({})).has_value());
  const auto crossed =
      cut_out(mesh, round_these({{23, 21, 0}, {101, 88, 0}, {97, 17, 0}, {27, 91, 0}}));
  ASSERT_FALSE(crossed.has_value());
  EXPECT_NE(crossed.error().where.find("near"), std::string::npos);
  const auto far = cut_out(mesh, round_these({{20, 20, 0}, {60, 20, 900}, {60, 60, 0}}));
  ASSERT_FALSE(far.has_value());
  EXPECT_NE(far.error().where.find("point 2"), std::string::npos);
  EXPECT_FALSE(
      cut_out(mesh, round_these({{20, 20, 0}, {20, 20, 0}, {60, 20, 0}, {60, 60, 0}})).has_value());
  const double bad = std::nan("");
  EXPECT_FALSE(cut_out(mesh, round_these({{20, bad, 0}, {60, 20, 0}, {60, 60, 0}})).has_value());
}

}  // namespace
}  // namespace film::surface
