#include "surface/denoise.h"

#include <cmath>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "support/surfaces.h"
#include "surface/clean.h"
#include "surface/flatten.h"

namespace film::surface {
namespace {

TriMesh noisy(TriMesh mesh, double noise) {
  Rng rng(7);
  for (Vec3& p : mesh.points) {
    p += Vec3{rng.uniform(-noise, noise), rng.uniform(-noise, noise), rng.uniform(-noise, noise)};
  }
  return mesh;
}

double off_cylinder(const TriMesh& mesh, double radius) {
  double square = 0;
  for (const Vec3& p : mesh.points) square += std::pow(std::hypot(p.x, p.z) - radius, 2);
  return std::sqrt(square / static_cast<double>(mesh.points.size()));
}

TEST(Denoise, TakesMostOfTheNoiseOffACylinderWithinItsBound) {
  const TriMesh rough = noisy(test::cylinder(400, 1, 300, 80, 60), 0.05);
  const TriMesh smooth = denoise(rough, Mm{0.1});
  EXPECT_EQ(smooth.triangles, rough.triangles);
  EXPECT_LT(off_cylinder(smooth, 400), 0.5 * off_cylinder(rough, 400));
  for (std::size_t v = 0; v < rough.points.size(); ++v) {
    EXPECT_LE(distance(smooth.points[v], rough.points[v]), 0.1);
  }
}

TEST(Denoise, LessNoiseIsLessStrainInTheFlatPiece) {
  const TriMesh rough = noisy(test::cylinder(400, 1, 300, 80, 60), 0.05);
  const auto before = flatten(rough, {}, {});
  const auto after = flatten(denoise(rough, Mm{0.1}), {}, {});
  ASSERT_TRUE(before && after);
  EXPECT_LT(after->sd_mean - 4, 0.6 * (before->sd_mean - 4));
}

TEST(Denoise, KeepsACrease) {
  // A sheet bent by a right angle along x = 100.
  const TriMesh sharp = test::grid_surface(40, 20, [](double u, double v) {
    const double x = 200 * u;
    return Vec3{std::min(x, 100.0), 100 * v, -std::max(x - 100, 0.0)};
  });
  const TriMesh smooth = denoise(noisy(sharp, 0.05), Mm{1});
  for (std::size_t v = 0; v < sharp.points.size(); ++v) {
    EXPECT_LT(distance(smooth.points[v], sharp.points[v]), 0.25);
  }
}

TEST(Denoise, ASmoothMeshStaysWhereItIs) {
  const TriMesh flat = test::grid_surface(10, 10, [](double u, double v) {
    return Vec3{100 * u, 100 * v, 0};
  });
  EXPECT_EQ(denoise(flat, Mm{1}), flat);
}

TEST(Denoise, CleaningSmoothsWhenAskedAndSaysSo) {
  CleanOptions options;
  options.denoise_within = Mm{0.08};
  const auto result = clean(noisy(test::cylinder(400, 1, 300, 40, 30), 0.05), options, {});
  ASSERT_TRUE(result);
  EXPECT_GT(result->error.value, 0);
  EXPECT_LE(result->error.value, 0.08);
  ASSERT_EQ(result->mends.size(), 1u);
  EXPECT_NE(result->mends[0].find("smoothed"), std::string::npos);
}

}  // namespace
}  // namespace film::surface
