#pragma once

#include <span>
#include <vector>

#include "surface/geodesic.h"

namespace film::surface::detail {

/// The place on the mesh that is nearest to a point. O(n).
struct Foot {
  std::uint32_t triangle = 0;
  Vec3 at;
  double weight[3] = {1, 0, 0};  ///< of the triangle's corners
  double away = 0;               ///< mm
};
Foot nearest_on(const TriMesh& mesh, Vec3 point);

/// Makes the place a vertex of the mesh, dividing a triangle or an edge unless it is one already.
VertexIndex put_vertex(TriMesh& mesh, const Foot& foot);

/// Divides the triangles along a way so that it follows edges; returns its vertices. Vertices that
/// are there keep their numbers; new ones come after them.
std::vector<VertexIndex> put_line(TriMesh& mesh, std::span<const EdgePoint> way);

}  // namespace film::surface::detail
