#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include <Eigen/Core>

#include "geometry/trimesh.h"

namespace film::surface::detail {

using Mat2 = Eigen::Matrix2d;
using Mat4 = Eigen::Matrix4d;

/// A triangle of the panel in a frame of its own, as its map to the film needs it. With flat
/// corners u0, u1, u2 the map's matrix is J = (u1 - u0) g1^T + (u2 - u0) g2^T.
struct RestShape {
  double g1x, g1y, g2x, g2y;  // 1/mm
  double area;                // mm^2

  [[nodiscard]] Mat2 map(Vec2 u0, Vec2 u1, Vec2 u2) const {
    const Vec2 a = u1 - u0;
    const Vec2 b = u2 - u0;
    Mat2 j;
    j << a.x * g1x + b.x * g2x, a.x * g1y + b.x * g2y, a.y * g1x + b.y * g2x, a.y * g1y + b.y * g2y;
    return j;
  }
};

/// The frame of each triangle: x along its first side. Requires positive areas.
std::vector<RestShape> rest_shapes(const TriMesh& surface);

/// J = U diag(s1, s2) V^T with rotations U, V and s1 >= |s2|; s2 has the sign of det J.
struct Svd2 {
  double s1, s2;
  Mat2 u, v;
};
Svd2 svd(const Mat2& j);
/// s1 and s2 of it alone, much cheaper.
struct SingularValues {
  double s1, s2;
};
SingularValues singular_values(const Mat2& j);

}  // namespace film::surface::detail
