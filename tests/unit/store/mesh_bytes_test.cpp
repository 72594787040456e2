#include "store/mesh_bytes.h"

#include <limits>

#include <gtest/gtest.h>

namespace film::store {
namespace {

TriMesh triangle() {
  return {{{0.1, -2e300, 5e-324}, {1, 2, 3}, {-0.0, 1.0 / 3, 7}}, {{0, 1, 2}, {2, 1, 0}}};
}

TEST(MeshBytes, ASurfaceComesBackToTheBit) {
  const auto read = mesh_from_bytes(mesh_to_bytes(triangle()));
  ASSERT_TRUE(read);
  EXPECT_EQ(*read, triangle());
  EXPECT_TRUE(std::signbit(read->points[2].x));
  EXPECT_EQ(mesh_from_bytes(mesh_to_bytes({})).value(), TriMesh{});
}

TEST(MeshBytes, EveryTruncationIsRefused) {
  const std::string whole = mesh_to_bytes(triangle());
  for (std::size_t n = 0; n < whole.size(); ++n) {
    EXPECT_FALSE(mesh_from_bytes(std::string_view(whole).substr(0, n))) << n;
  }
  EXPECT_FALSE(mesh_from_bytes(whole + "x"));
}

TEST(MeshBytes, AnIndexPastTheLastPointIsRefused) {
  TriMesh mesh = triangle();
  mesh.triangles[1][2] = 3;
  EXPECT_FALSE(mesh_from_bytes(mesh_to_bytes(mesh)));
}

}  // namespace
}  // namespace film::store
