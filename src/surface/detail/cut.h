#pragma once

#include <span>
#include <vector>

#include "geometry/trimesh.h"
#include "geometry/vec.h"

namespace film::surface::detail {

/// A point of a surface on the edge from a to b, at the share t of its length; a == b is a vertex.
struct EdgePoint {
  VertexIndex a = 0;
  VertexIndex b = 0;
  double t = 0;

  [[nodiscard]] bool is_vertex() const { return a == b; }
  template <class Point>
  [[nodiscard]] Point at(std::span<const Point> points) const {
    return is_vertex() ? points[a] : points[a] + t * (points[b] - points[a]);
  }
  friend bool operator==(const EdgePoint&, const EdgePoint&) = default;
};

/// A line on a surface: neighbours lie on one triangle, no two of them on one edge unless both are
/// its ends.
using SurfacePath = std::vector<EdgePoint>;

double length_of(const TriMesh& surface, const SurfacePath& path);
/// Length times `cost` per mm, given at each vertex.
double cost_of(const TriMesh& surface, std::span<const double> cost, const SurfacePath& path);

/// A surface opened along a path. Its first vertices are those of the surface; a vertex of the
/// path stays with the left lip, and the right lip has its copy among `added`. Triangles keep
/// their numbers; one that the path crosses keeps a part, the other parts follow at the end.
struct CutSurface {
  TriMesh mesh;
  std::vector<EdgePoint> added;   ///< where each vertex past the surface's own lies on the surface
  std::vector<VertexIndex> left;  ///< the lips from start to end; an inner end is in both
  std::vector<VertexIndex> right;
};

/// Opens `surface` along `path`, which starts on its boundary and ends inside (a cut) or on the
/// boundary (a seam: the result comes apart). Requires a clean surface and a path that meets
/// neither the boundary nor itself on the way. O(n + m^2), m points on the path.
CutSurface cut_open(const TriMesh& surface, const SurfacePath& path);

/// A connected part of a surface.
struct Part {
  TriMesh mesh;
  std::vector<VertexIndex> whole;  ///< for each of its vertices the number in the whole surface
};
/// The parts of a surface, in the order of their first triangle. O(n).
std::vector<Part> parts_of(const TriMesh& surface);

/// The values of a surface's vertices carried over to the vertices of the cut surface.
template <class Value>
std::vector<Value> carried(const CutSurface& cut, std::span<const Value> values) {
  std::vector<Value> result(values.begin(), values.end());
  result.reserve(values.size() + cut.added.size());
  for (const EdgePoint& p : cut.added) result.push_back(p.at(values));
  return result;
}

}  // namespace film::surface::detail
