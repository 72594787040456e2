#include "surface/geodesic.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "support/surfaces.h"

namespace film::surface {
namespace {

constexpr double kPi = std::numbers::pi;

VertexIndex nearest(const TriMesh& mesh, Vec3 p) {
  VertexIndex best = 0;
  for (VertexIndex v = 1; v < mesh.points.size(); ++v) {
    if (distance(mesh.points[v], p) < distance(mesh.points[best], p)) best = v;
  }
  return best;
}

// A plane: the way is the straight line, whatever the triangles.
TEST(Geodesic, IsStraightOnAPlane) {
  TriMesh mesh = test::grid_surface(13, 9, [](double u, double v) {
    return Vec3{130 * u, 90 * v, 0};
  });
  Rng rng(3);
  for (Vec3& p : mesh.points) {  // irregular, the border kept
    const bool border = p.x == 0 || p.x == 130 || p.y == 0 || p.y == 90;
    if (!border) p += Vec3{rng.uniform(-3, 3), rng.uniform(-3, 3), 0};
  }
  for (int k = 0; k < 200; ++k) {
    const auto a = static_cast<VertexIndex>(rng.below(mesh.points.size()));
    const auto b = static_cast<VertexIndex>(rng.below(mesh.points.size()));
    const auto way = geodesic(mesh, a, b);
    ASSERT_TRUE(way.has_value());
    EXPECT_NEAR(length_of(mesh, *way), distance(mesh.points[a], mesh.points[b]), 1e-9);
  }
}

// A prism inscribed in a cylinder unrolls without change: the way has the length of the straight
// line on the unrolled prism (plane geometry), to rounding.
TEST(Geodesic, IsAHelixOnACylinder) {
  constexpr std::size_t kAcross = 40;
  const double radius = 300, turn = 2.0, length = 700;
  const TriMesh mesh = test::cylinder(radius, turn, length, kAcross, 25);
  Rng rng(5);
  const double chord = 2 * radius * std::sin(turn / kAcross / 2);
  for (int k = 0; k < 100; ++k) {
    const std::size_t i = rng.below(kAcross + 1), j = rng.below(26);
    const std::size_t m = rng.below(kAcross + 1), n = rng.below(26);
    const auto at = [](std::size_t x, std::size_t y) {
      return static_cast<VertexIndex>(y * (kAcross + 1) + x);
    };
    const auto way = geodesic(mesh, at(i, j), at(m, n));
    ASSERT_TRUE(way.has_value());
    const double across = chord * std::abs(static_cast<double>(i) - static_cast<double>(m));
    const double along = length / 25 * std::abs(static_cast<double>(j) - static_cast<double>(n));
    EXPECT_NEAR(length_of(mesh, *way), std::hypot(across, along), 1e-8);
  }
}

// A sphere: the way is a great circle; its length differs from R times the angle by what the
// triangles differ from the sphere, of the order of the square of their size.
TEST(Geodesic, IsAGreatCircleOnASphere) {
  const double radius = 500;
  double worst[2] = {0, 0};
  std::size_t run = 0;
  for (const std::size_t rings : {20U, 40U}) {
    const TriMesh mesh = test::cap(radius, kPi / 2, rings);
    const Vec3 centre = mesh.points[0] - Vec3{0, 0, radius};
    Rng rng(7);
    for (int k = 0; k < 40; ++k) {
      const double a = rng.uniform(0, 2 * kPi), b = a + rng.uniform(0.3, 2.8);
      const auto on = [&](double polar, double azimuth) {
        return centre + radius * Vec3{std::sin(polar) * std::cos(azimuth),
                                      std::sin(polar) * std::sin(azimuth), std::cos(polar)};
      };
      const VertexIndex from = nearest(mesh, on(1.2, a)), to = nearest(mesh, on(0.9, b));
      const auto way = geodesic(mesh, from, to);
      ASSERT_TRUE(way.has_value());
      const Vec3 u = mesh.points[from] - centre, v = mesh.points[to] - centre;
      const double arc = radius * std::atan2(length(cross(u, v)), dot(u, v));
      worst[run] = std::max(worst[run], std::abs(length_of(mesh, *way) - arc) / arc);
    }
    ++run;
  }
  EXPECT_LT(worst[0], 3e-3);
  EXPECT_LT(worst[1], worst[0] / 3);  // second order
}

TEST(Geodesic, RoundsAnOpeningByItsEdge) {
  // A square plate with a slit from the lower edge up to y = 60: the way bends at its end.
  TriMesh mesh = test::grid_surface(10, 10, [](double u, double v) {
    return Vec3{100 * u, 100 * v, 0};
  });
  std::erase_if(mesh.triangles, [&mesh](const Triangle& t) {
    double x = 0, y = 0;
    for (const VertexIndex v : t) {
      x += mesh.points[v].x / 3;
      y += mesh.points[v].y / 3;
    }
    return x > 40 && x < 50 && y < 60;
  });
  const VertexIndex a = nearest(mesh, {0, 0, 0}), b = nearest(mesh, {100, 0, 0});
  const auto way = geodesic(mesh, a, b);
  ASSERT_TRUE(way.has_value());
  EXPECT_NEAR(length_of(mesh, *way), std::hypot(40, 60) + 10 + std::hypot(50, 60), 1e-9);
}

TEST(Geodesic, EveryStepLiesInOneTriangleAndPartsThatDoNotMeetAreSaid) {
  TriMesh mesh = test::cap(300, 1.2, 12);
  const auto base = static_cast<VertexIndex>(mesh.points.size());
  mesh.points.insert(mesh.points.end(), {{900, 0, 0}, {950, 0, 0}, {900, 50, 0}});
  mesh.triangles.push_back({base, base + 1, base + 2});
  const auto way = geodesic(mesh, 300, 350);
  ASSERT_TRUE(way.has_value());
  for (std::size_t i = 0; i + 1 < way->size(); ++i) {
    const EdgePoint p = (*way)[i], q = (*way)[i + 1];
    bool shared = false;
    for (const Triangle& t : mesh.triangles) {
      const auto has = [&t](VertexIndex v) { return t[0] == v || t[1] == v || t[2] == v; };
      shared = shared || (has(p.a) && has(p.b) && has(q.a) && has(q.b));
    }
    EXPECT_TRUE(shared) << i;
  }
  EXPECT_EQ(geodesic(mesh, 0, base).error().code, ErrorCode::not_found);
  EXPECT_FALSE(geodesic(mesh, 0, 1'000'000).has_value());
}

}  // namespace
}  // namespace film::surface
