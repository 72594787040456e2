#pragma once

#include <cstdint>
#include <memory>

#include "geometry/trimesh.h"

namespace film {

/// Nearest point of a triangle to `p`.
Vec3 nearest_on_triangle(Vec3 p, Vec3 a, Vec3 b, Vec3 c);

/// Finds the nearest triangle of a mesh that outlives it and has at least one.
class NearestTriangle {
 public:
  explicit NearestTriangle(const TriMesh& mesh);
  ~NearestTriangle();
  struct Hit {
    std::uint32_t triangle = 0;
    double distance = 0;
  };
  /// O(log n) for evenly spread triangles.
  [[nodiscard]] Hit find(Vec3 p) const;

 private:
  struct Tree;
  std::unique_ptr<Tree> tree_;
};

/// The greatest distance from any point of one surface to the other, either way round (Hausdorff
/// distance), between two bounds: `least` is taken at some point, `greatest` is proved. They differ
/// by at most `tolerance`, or 1 % of the distance, unless a surface is torn apart finer than that.
/// Method: over a flat convex part the distance to one fixed triangle is convex, so it is greatest
/// at a corner. Parts for which that does not settle it are cut along the sides of the triangle
/// nearest to their middle, or else halved.
struct MeshDistance {
  double least = 0;
  double greatest = 0;
};
MeshDistance mesh_distance(const TriMesh& a, const TriMesh& b, double tolerance);

}  // namespace film
