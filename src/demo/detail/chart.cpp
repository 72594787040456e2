#include <cmath>

#include "demo/detail/sheet.h"

namespace film::demo {

Vec2 Chart::at(Vec3 p) const {
  const Vec3 r = p - origin;
  if (radius == 0) return {dot(r, u), dot(r, v)};
  return {radius * std::atan2(dot(r, u), dot(r, out)), dot(r, v)};
}

double Chart::depth(Vec3 p) const {
  const Vec3 r = p - origin;
  return radius == 0 ? dot(r, out) : std::hypot(dot(r, u), dot(r, out));
}

Vec3 Chart::point(Vec2 q, double depth) const {
  if (radius == 0) return origin + q.x * u + q.y * v + depth * out;
  const double angle = q.x / radius;
  return origin + q.y * v + depth * (std::cos(angle) * out + std::sin(angle) * u);
}

Chart view_along(Vec3 out) {
  out = out / length(out);
  const Vec3 aside = std::fabs(out.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
  Vec3 u = cross(aside, out);
  u = u / length(u);
  return {{}, u, cross(out, u), out, 0};
}

Chart round_axis(Vec3 origin, Vec3 axis, Vec3 out, double radius) {
  return {origin, cross(axis, out), axis, out, radius};
}

}  // namespace film::demo
