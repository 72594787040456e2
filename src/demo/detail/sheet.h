#pragma once

#include <functional>
#include <string>
#include <vector>

#include "geometry/trimesh.h"
#include "pattern/piece.h"

namespace film::demo {

/// A number for every point in space: a body's distance or a cut's side.
using Field = std::function<double(Vec3)>;

Vec3 gradient(const Field& field, Vec3 p);
Vec3 gradient(const Field& field, Vec3 p, double value);  ///< `value` is the field's at p

/// The point of `field` = 0 found from p by steps along the gradient.
Vec3 projected(const Field& field, Vec3 p);

/// A line on the skin along which panels are parted: where `side` is zero. About a distance, mm.
struct Cut {
  std::string name;  ///< of the boundary stretch it makes
  pattern::EdgeKind kind = pattern::EdgeKind::gap;
  Field side;
  double half_gap = 2;  ///< how far the panel keeps from the line, mm
};

/// One vertex of a traced boundary and which cut it lies on; at corners the cut that starts.
struct TracedLoop {
  std::vector<Vec3> points;
  std::vector<std::size_t> first;  ///< where stretches start, rising, the first is 0
  std::vector<std::size_t> cut;    ///< for each stretch its cut
};

struct TraceOptions {
  double step = 4;    ///< mm between points
  double corner = 6;  ///< radius of rounded corners, mm
};

/// The outline of the part of the skin that holds `inside` and is bounded by the cuts, with the
/// part on the left, seen from outside. Empty if the cuts do not bound it.
TracedLoop trace(const Field& skin, const std::vector<Cut>& cuts, Vec3 inside,
                 const TraceOptions& options);

struct ThinOptions {
  double edge = 40;   ///< greatest distance of the points kept, mm
  double turn = 0.2;  ///< greatest turn from point to point, radians
};

/// A finely traced loop with as few points as the options allow; stretches keep their ends.
TracedLoop thinned(const Field& skin, const TracedLoop& fine, const ThinOptions& options);

/// How a panel is laid out in a plane so that it can be divided into triangles: seen along a
/// direction, or round an axis.
struct Chart {
  Vec3 origin;
  Vec3 u, v, out;  ///< right-handed; round an axis: v is the axis, `out` the direction at angle 0
  double radius = 0;  ///< 0: seen along `out`

  [[nodiscard]] Vec2 at(Vec3 p) const;
  [[nodiscard]] double depth(Vec3 p) const;
  [[nodiscard]] Vec3 point(Vec2 q, double depth) const;
};

Chart view_along(Vec3 out);
Chart round_axis(Vec3 origin, Vec3 axis, Vec3 out, double radius);

struct MeshOptions {
  double edge = 40;    ///< greatest length of an edge, mm
  double chord = 0.6;  ///< greatest departure of an edge from the skin, mm
  double turn = 0.3;   ///< greatest turn of the normal along an edge, radians
  double least = 8;    ///< edges this short are left, mm
};

/// Triangles over the part of the skin within the loops (first the outer one); the loops' points
/// come first, in order.
TriMesh triangulated(const Field& skin, const std::vector<std::vector<Vec3>>& loops,
                     const Chart& chart, const MeshOptions& options);

}  // namespace film::demo
