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

namespace {

struct Turn {
  double c = 1, s = 0;  // cosine and sine
};

/// Half of the angle with this cosine and sine, within a quarter turn either way.
Turn half_turn(double c, double s) {
  if (c > 0) {
    const double half = std::sqrt((1 + c) / 2);
    return {half, s / (2 * half)};
  }
  const double half = std::copysign(std::sqrt((1 - c) / 2), s);
  return {s / (2 * half), half};
}

/// J = (e -h; h e) + (f g; g -f), a turn and a mirroring, with their sizes q and r.
struct Split {
  explicit Split(const Mat2& j)
      : e((j(0, 0) + j(1, 1)) / 2),
        f((j(0, 0) - j(1, 1)) / 2),
        g((j(1, 0) + j(0, 1)) / 2),
        h((j(1, 0) - j(0, 1)) / 2),
        q(std::sqrt(e * e + h * h)),
        r(std::sqrt(f * f + g * g)) {}
  double e, f, g, h, q, r;
};

SingularValues values_of(const Mat2& j, const Split& split) {
  const double s1 = split.q + split.r;
  return {s1, s1 > 0 ? (j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0)) / s1 : 0};
}

}  // namespace

Svd2 svd(const Mat2& j) {
  const Split p(j);
  const auto [s1, s2] = values_of(j, p);
  const Turn a1 = p.r > 0 ? half_turn(p.f / p.r, p.g / p.r) : Turn{};
  const Turn a2 = p.q > 0 ? half_turn(p.e / p.q, p.h / p.q) : Turn{};
  Svd2 result{s1, s2, Mat2(), Mat2()};
  const Turn phi{a2.c * a1.c - a2.s * a1.s, a2.s * a1.c + a2.c * a1.s};
  const Turn theta{a2.c * a1.c + a2.s * a1.s, a2.s * a1.c - a2.c * a1.s};
  result.u << phi.c, -phi.s, phi.s, phi.c;
  result.v << theta.c, theta.s, -theta.s, theta.c;
  return result;
}

SingularValues singular_values(const Mat2& j) { return values_of(j, Split(j)); }

}  // namespace film::surface::detail
