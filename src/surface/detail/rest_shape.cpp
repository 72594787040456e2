#include "surface/detail/rest_shape.h"

#include <cmath>

namespace film::surface::detail {

std::vector<RestShape> rest_shapes(const TriMesh& surface) {
  std::vector<RestShape> shapes;
  shapes.reserve(surface.triangles.size());
  for (const Triangle& t : surface.triangles) {
    const Vec3 a = surface.points[t[1]] - surface.points[t[0]];
    const Vec3 b = surface.points[t[2]] - surface.points[t[0]];
    const double along = length(a);
    const double ax = along;
    const double bx = dot(a, b) / along;
    const double by = length(cross(a, b)) / along;
    shapes.push_back({1 / ax, -bx / (ax * by), 0, 1 / by, ax * by / 2});
  }
  return shapes;
}

Svd2 svd(const Mat2& j) {
  const double e = (j(0, 0) + j(1, 1)) / 2;
  const double f = (j(0, 0) - j(1, 1)) / 2;
  const double g = (j(1, 0) + j(0, 1)) / 2;
  const double h = (j(1, 0) - j(0, 1)) / 2;
  const double q = std::sqrt(e * e + h * h);
  const double r = std::sqrt(f * f + g * g);
  const double s1 = q + r;
  const double s2 = s1 > 0 ? (j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0)) / s1 : 0;
  const double a1 = r > 0 ? std::atan2(g, f) : 0;
  const double a2 = std::atan2(h, e);
  const double phi = (a2 + a1) / 2;
  const double theta = (a2 - a1) / 2;
  Svd2 result{s1, s2, Mat2(), Mat2()};
  result.u << std::cos(phi), -std::sin(phi), std::sin(phi), std::cos(phi);
  result.v << std::cos(theta), std::sin(theta), -std::sin(theta), std::cos(theta);
  return result;
}

}  // namespace film::surface::detail
