#include "formats/detail/dxf_shapes.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <initializer_list>
#include <numbers>
#include <optional>
#include <string_view>
#include <utility>

namespace film::formats::detail {
namespace {

constexpr double kPi = std::numbers::pi;

/// Collects numbers of one entity and remembers the first failure.
class Numbers {
 public:
  explicit Numbers(const DxfEntity& entity) : entity_(entity) {}

  double operator()(int code, double fallback = 0) {
    const auto value = entity_.number(code, fallback);
    if (!value && !failure_) failure_ = value.error();
    return value.value_or(fallback);
  }
  Vec2 point(int code) {
    const double x = (*this)(code);
    return {x, (*this)(code + 10)};
  }
  double radians(int code, double fallback = 0) { return (*this)(code, fallback) * kPi / 180; }
  int whole(int code, int fallback = 0) {
    const auto value = entity_.whole(code, fallback);
    if (!value && !failure_) failure_ = value.error();
    return value.value_or(fallback);
  }
  [[nodiscard]] const std::optional<Error>& failure() const { return failure_; }

 private:
  const DxfEntity& entity_;
  std::optional<Error> failure_;
};

/// An arc's range from its two angles: always counter-clockwise, a whole turn at most.
void set_range(EllipseArc& arc, double from, double to) {
  constexpr double kWholeTurn = 2 * kPi;
  const bool whole = std::abs(to - from - kWholeTurn) < 1e-6;
  double sweep = whole ? kWholeTurn : std::fmod(to - from, kWholeTurn);
  if (sweep <= 0) sweep += kWholeTurn;
  arc.from = std::fmod(from, kWholeTurn);
  arc.to = arc.from + sweep;
}

DxfLine arc_line(const EllipseArc& arc, bool closed, double flatness) {
  DxfLine line{{arc.at(arc.from)}, closed};
  append_arc(line.points, arc, flatness);
  if (closed) line.points.pop_back();
  return line;
}

DxfLine line_of(Numbers& number, const Affine& map) {
  const Vec2 from = number.point(10);
  return {{map(from), map(number.point(11))}, false};
}

DxfLine circle_of(Numbers& number, const Affine& map, double flatness, bool whole) {
  const double radius = number(40);
  EllipseArc arc{number.point(10), {radius, 0}, {0, radius}, 0, 2 * kPi};
  if (!whole) {
    const double from = number.radians(50);
    set_range(arc, from, number.radians(51, 360));
  }
  return arc_line(image(map, arc), whole, flatness);
}

DxfLine ellipse_of(Numbers& number, const Affine& map, double flatness) {
  const Vec2 major = number.point(11);
  const double side = number(230, 1) < 0 ? -1 : 1;  // the plane's normal, z or -z
  EllipseArc arc{number.point(10), major, side * number(40, 1) * left_of(major), 0, 0};
  const double from = number(41);
  set_range(arc, from, number(42, 2 * kPi));
  const bool whole = arc.to - arc.from >= 2 * kPi - 1e-9;
  return arc_line(image(map, arc), whole, flatness);
}

struct BulgedPoint {
  Vec2 at;
  double bulge = 0;  // tangent of a quarter of the arc's angle to the next point, left positive
};

void append_bulge(Polyline& chain, const BulgedPoint& from, Vec2 to, const Affine& map,
                  double flatness) {
  if (std::abs(from.bulge) > 1e-12 && from.at != to) {
    const Vec2 chord = to - from.at;
    const double b = from.bulge;
    const Vec2 centre = 0.5 * (from.at + to) + ((1 - b * b) / (4 * b)) * left_of(chord);
    const Vec2 u = from.at - centre;
    append_arc(chain, image(map, {centre, u, left_of(u), 0, 4 * std::atan(b)}), flatness);
    chain.pop_back();  // for the exact end
  }
  chain.push_back(map(to));
}

DxfLine polyline_of(const std::vector<BulgedPoint>& points, bool closed, const Affine& map,
                    double flatness) {
  DxfLine line;
  line.closed = closed;
  if (points.empty()) return line;
  line.points.push_back(map(points.front().at));
  const std::size_t edges = closed ? points.size() : points.size() - 1;
  for (std::size_t i = 0; i < edges; ++i) {
    append_bulge(line.points, points[i], points[(i + 1) % points.size()].at, map, flatness);
  }
  if (closed) line.points.pop_back();
  return line;
}

/// The points of an LWPOLYLINE stand one after another in its groups.
Result<std::vector<BulgedPoint>> light_points(const DxfEntity& entity) {
  std::vector<BulgedPoint> points;
  for (const DxfGroup& group : entity.groups) {
    if (group.code != 10 && group.code != 20 && group.code != 42) continue;
    const auto value = finite_number(group);
    if (!value) return tl::unexpected(value.error());
    if (group.code == 10) points.push_back({{*value, 0}, 0});
    if (points.empty()) continue;
    if (group.code == 20) points.back().at.y = *value;
    if (group.code == 42) points.back().bulge = *value;
  }
  return points;
}

Result<std::vector<BulgedPoint>> heavy_points(std::span<const DxfEntity> vertices) {
  constexpr int kControlPoint = 16;  // of the frame of a curve-fitted polyline: not drawn
  std::vector<BulgedPoint> points;
  for (const DxfEntity& vertex : vertices) {
    Numbers number(vertex);
    const BulgedPoint point{number.point(10), number(42)};
    const int flags = number.whole(70);
    if (number.failure()) return tl::unexpected(*number.failure());
    if ((flags & kControlPoint) == 0) points.push_back(point);
  }
  return points;
}

Result<DxfLine> spline_of(const DxfEntity& entity, const Affine& map, double flatness) {
  Spline spline;
  std::size_t x_count = 0;
  for (const DxfGroup& group : entity.groups) {
    if (group.code != 10 && group.code != 20 && group.code != 40 && group.code != 41) continue;
    const auto value = finite_number(group);
    if (!value) return tl::unexpected(value.error());
    if (group.code == 40) spline.knots.push_back(*value);
    if (group.code == 41) spline.weights.push_back(*value);
    if (group.code == 10) {
      spline.points.push_back({*value, 0});
      ++x_count;
    }
    if (group.code == 20 && x_count > 0) spline.points.back().y = *value;
  }
  const auto degree = entity.whole(71, 3);
  if (!degree) return tl::unexpected(degree.error());
  spline.degree = *degree < 1 ? 0 : static_cast<std::size_t>(*degree);
  if (spline.points.empty()) {
    return fail(ErrorCode::unsupported, "the spline has no control points", entity.where());
  }
  if (!is_valid(spline)) {
    return fail(ErrorCode::invalid_input, "the spline's degree, knots and points do not fit",
                entity.where());
  }
  for (Vec2& p : spline.points) p = map(p);
  return DxfLine{flattened(spline, flatness), false};
}

bool is_any(std::string_view type, std::initializer_list<std::string_view> types) {
  return std::find(types.begin(), types.end(), type) != types.end();
}

}  // namespace

Result<Affine> own_plane(const DxfEntity& entity) {
  Numbers number(entity);
  const double x = number(210);
  const double y = number(220);
  const double z = number(230, 1);
  if (number.failure()) return tl::unexpected(*number.failure());
  const double size = std::sqrt(x * x + y * y + z * z);
  if (!(std::abs(z) > 0.999999 * size)) {
    return fail(ErrorCode::unsupported, "the entity is tilted out of the drawing's plane",
                entity.where());
  }
  return Affine{{z > 0 ? 1.0 : -1.0, 0}, {0, 1}, {}};
}

Result<std::vector<DxfLine>> drawn(const DxfEntity& entity, std::span<const DxfEntity> vertices,
                                   const Affine& map, double flatness) {
  constexpr int kMeshes = 16 | 64;  // POLYLINE flags of surfaces
  const std::string_view type = entity.type;
  if (!is_any(type, {"LINE", "ARC", "CIRCLE", "ELLIPSE", "LWPOLYLINE", "POLYLINE", "SPLINE"})) {
    return std::vector<DxfLine>{};
  }
  const auto plane = own_plane(entity);
  if (!plane && type != "LINE") return tl::unexpected(plane.error());
  const Affine own = plane ? map.after(*plane) : map;
  Numbers number(entity);
  std::vector<DxfLine> lines;
  if (type == "LINE") {
    lines.push_back(
        line_of(number, map));  // lines, ellipses and splines stand in the world's plane
  } else if (type == "ARC" || type == "CIRCLE") {
    lines.push_back(circle_of(number, own, flatness, type == "CIRCLE"));
  } else if (type == "ELLIPSE") {
    lines.push_back(ellipse_of(number, map, flatness));
  } else if (type == "SPLINE") {
    auto line = spline_of(entity, map, flatness);
    if (!line) return tl::unexpected(line.error());
    lines.push_back(std::move(*line));
  } else {
    const int flags = number.whole(70);
    if (type == "POLYLINE" && (flags & kMeshes) != 0) return lines;
    const auto points = type == "POLYLINE" ? heavy_points(vertices) : light_points(entity);
    if (!points) return tl::unexpected(points.error());
    lines.push_back(polyline_of(*points, (flags & 1) != 0, own, flatness));
  }
  if (number.failure()) {
    Error error = *number.failure();
    error.where = entity.where() + ", " + error.where;
    return tl::unexpected(std::move(error));
  }
  return lines;
}

}  // namespace film::formats::detail
