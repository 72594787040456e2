#include "geometry/mesh_distance.h"

#include <cmath>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "support/surfaces.h"

namespace film {
namespace {

TEST(MeshDistance, NearestTriangleIsTheNearestOfAll) {
  const TriMesh mesh = test::cap(100, 1, 6);
  const NearestTriangle nearest(mesh);
  Rng rng(1);
  for (int i = 0; i < 300; ++i) {
    const Vec3 p{rng.uniform(-120, 120), rng.uniform(-120, 120), rng.uniform(-50, 150)};
    double least = 1e300;
    for (const Triangle& t : mesh.triangles) {
      // Slow and obvious: many points of the triangle.
      for (int a = 0; a <= 12; ++a) {
        for (int b = 0; a + b <= 12; ++b) {
          const Vec3 q = (a / 12.0) * mesh.points[t[0]] + (b / 12.0) * mesh.points[t[1]] +
                         ((12 - a - b) / 12.0) * mesh.points[t[2]];
          least = std::min(least, distance(p, q));
        }
      }
    }
    const NearestTriangle::Hit hit = nearest.find(p);
    EXPECT_LE(hit.distance, least + 1e-12);
    EXPECT_GE(hit.distance, least - 1.0);
    const Triangle& t = mesh.triangles[hit.triangle];
    EXPECT_NEAR(distance(p, nearest_on_triangle(p, mesh.points[t[0]], mesh.points[t[1]],
                                                mesh.points[t[2]])),
                hit.distance, 1e-12);
  }
}

TEST(MeshDistance, AChordLiesItsSagittaFromTheFinerArc) {
  // Both meshes' vertices lie on the cylinder; the coarse facets are farthest off half way, where
  // the fine mesh has a vertex: r (1 - cos(angle / 2)).
  const TriMesh fine = test::cylinder(500, 1, 300, 24, 4);
  const TriMesh coarse = test::cylinder(500, 1, 300, 6, 2);
  const MeshDistance d = mesh_distance(fine, coarse, 1e-4);
  const double sagitta = 500 * (1 - std::cos(1.0 / 6 / 2));
  EXPECT_NEAR(d.least, sagitta, 1e-9);
  EXPECT_LE(d.greatest, sagitta * 1.011 + 1e-4);
  EXPECT_GE(d.greatest, sagitta);
}

TEST(MeshDistance, CountsBothWays) {
  const TriMesh small = test::cylinder(500, 0.5, 300, 6, 4);
  const TriMesh large = test::cylinder(500, 1, 300, 12, 4);
  // The edge of the larger one is a quarter radian from the smaller one.
  const double chord = 2 * 500 * std::sin(0.125);
  EXPECT_NEAR(mesh_distance(small, large, 1e-3).least, chord, 0.5);
  EXPECT_NEAR(mesh_distance(large, small, 1e-3).least, chord, 0.5);
}

}  // namespace
}  // namespace film
