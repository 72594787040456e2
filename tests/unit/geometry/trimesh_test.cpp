#include "geometry/trimesh.h"

#include <gtest/gtest.h>

namespace film {
namespace {

/// A flat square ring: 4 outer corners (0-3), 4 inner corners (4-7), counter-clockwise from +z.
TriMesh square_ring() {
  TriMesh mesh;
  mesh.points = {{0, 0, 0}, {9, 0, 0}, {9, 9, 0}, {0, 9, 0},
                 {3, 3, 0}, {6, 3, 0}, {6, 6, 0}, {3, 6, 0}};
  for (VertexIndex k = 0; k < 4; ++k) {
    const VertexIndex next = (k + 1) % 4;
    mesh.triangles.push_back({k, next, 4 + next});
    mesh.triangles.push_back({k, 4 + next, 4 + k});
  }
  return mesh;
}

TEST(TriMesh, AreaIsTheSumOfItsTriangles) { EXPECT_DOUBLE_EQ(surface_area(square_ring()), 72); }

TEST(BoundaryLoops, OuterEdgeLeadsAndKeepsTheSurfaceOnItsLeft) {
  const auto loops = boundary_loops(square_ring());
  ASSERT_EQ(loops.size(), 2u);
  EXPECT_EQ(loops[0], (std::vector<VertexIndex>{0, 1, 2, 3}));
  ASSERT_EQ(loops[1].size(), 4u);
  const auto& hole = loops[1];
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_EQ((hole[i] - 4 + 3) % 4, hole[(i + 1) % 4] - 4) << "the hole runs clockwise";
  }
}

TEST(BoundaryLoops, AClosedSurfaceHasNone) {
  TriMesh mesh;
  mesh.points = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  mesh.triangles = {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}};
  EXPECT_TRUE(boundary_loops(mesh).empty());
}

}  // namespace
}  // namespace film
