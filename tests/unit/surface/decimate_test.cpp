#include "surface/decimate.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "geometry/mesh_distance.h"
#include "support/surfaces.h"
#include "surface/clean.h"
#include "surface/flatten.h"

namespace film::surface {
namespace {

TEST(Decimate, TheStatedErrorIsTheDistanceOfTheSurfacesBothWays) {
  for (const double within : {0.02, 0.1, 0.5}) {
    const TriMesh fine = test::hood(1400, 1100, 60, 120, 1.0, 80, 80);
    const auto coarse = decimate(fine, Mm{within}, {});
    ASSERT_TRUE(coarse);
    EXPECT_LE(coarse->error.value, within);
    const MeshDistance d = mesh_distance(fine, coarse->mesh, within / 100);
    EXPECT_LE(d.least, coarse->error.value);
    EXPECT_LT(coarse->mesh.triangles.size(), fine.triangles.size() * 2 / 3);
    for (std::size_t v = 0; v < coarse->mesh.points.size(); ++v) {
      EXPECT_EQ(coarse->mesh.points[v], fine.points[coarse->source_vertex[v]]);
    }
  }
}

TEST(Decimate, AFlatSheetNeedsFewTriangles) {
  const TriMesh sheet = test::grid_surface(30, 30, [](double u, double v) {
    return Vec3{300 * u, 300 * v, 0};
  });
  const auto result = decimate(sheet, Mm{0.01}, {});
  ASSERT_TRUE(result);
  EXPECT_LT(result->mesh.triangles.size(), 60u);
  EXPECT_LE(result->error.value, 0.01);
  EXPECT_NEAR(surface_area(result->mesh), 90000, 1e-6);
}

TEST(Decimate, OpeningsStayOpenAndTheRestCleanAndFlattenable) {
  TriMesh mesh = test::hood(1400, 1100, 60, 0, 1.0, 40, 40);
  std::erase_if(mesh.triangles, [&](const Triangle& t) {
    return std::any_of(t.begin(), t.end(), [&](VertexIndex v) {
      return std::hypot(mesh.points[v].x - 500, mesh.points[v].y) < 150;
    });
  });
  CleanOptions options;
  options.decimate_within = Mm{0.2};
  const auto clean_mesh = clean(mesh, options, {});
  ASSERT_TRUE(clean_mesh) << clean_mesh.error().message();
  EXPECT_EQ(boundary_loops(clean_mesh->mesh).size(), 2u);
  EXPECT_LE(clean_mesh->error.value, 0.2);
  const auto again = clean(clean_mesh->mesh, {}, {});
  ASSERT_TRUE(again) << again.error().message();
  EXPECT_TRUE(again->mends.empty());
  for (std::size_t v = 0; v < mesh.points.size(); ++v) {
    const VertexIndex kept = clean_mesh->vertex_of_source[v];
    if (kept == CleanMesh::kDropped) continue;
    EXPECT_EQ(clean_mesh->mesh.points[kept], mesh.points[v]);
  }
  const auto flat = flatten(clean_mesh->mesh, {}, {});
  ASSERT_TRUE(flat) << flat.error().message();
}

TEST(Decimate, StopsWhenAsked) {
  const auto result = decimate(test::cap(300, 0.5, 40), Mm{0.1}, Context([] { return true; }));
  ASSERT_FALSE(result);
  EXPECT_EQ(result.error().code, ErrorCode::cancelled);
}

}  // namespace
}  // namespace film::surface
