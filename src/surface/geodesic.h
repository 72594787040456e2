#pragma once

#include <span>
#include <vector>

#include "base/result.h"
#include "geometry/trimesh.h"

namespace film::surface {

/// A point on an edge of a mesh: `share` of the way from vertex a to vertex b; a vertex when a = b.
struct EdgePoint {
  VertexIndex a = 0, b = 0;
  double share = 0;

  friend bool operator==(const EdgePoint&, const EdgePoint&) = default;
};

inline Vec3 place_of(const TriMesh& mesh, const EdgePoint& p) {
  return mesh.points[p.a] + p.share * (mesh.points[p.b] - mesh.points[p.a]);
}

/// A straightest way over the surface between two vertices: the shortest way along edges, pulled
/// tight until no part of it can be shortened by moving it a little. From point to point it is
/// straight inside one triangle. A geodesic, and the shortest one unless the shortest way along
/// edges runs round the other side of something.
///
/// The way is kept as a strip of triangles between the vertices it passes. The strip is unfolded
/// and the string in it pulled tight; where it bends round a vertex by less than half a turn on
/// one side, the strip is led round the vertex on that side. Every step shortens the way, so it
/// ends. At vertices whose triangles form no fan the way is left as it is.
///
/// Errors: invalid_input (no such vertex), not_found (the vertices are on parts that do not meet).
/// Cost: O(n log n) for the edges, then about the length of the strip for each step.
/// Source: unfolding and funnel, D. T. Lee, F. P. Preparata, Networks 14, 1984; correction round
/// vertices, S.-Q. Xin, G.-J. Wang, Computer-Aided Design 39(12), 2007; that the condition of both
/// angles being half a turn or more suffices, N. Sharp, K. Crane, ACM TOG 39(6), 2020, section 3.
Result<std::vector<EdgePoint>> geodesic(const TriMesh& mesh, VertexIndex from, VertexIndex to);

/// Length of such a way, mm.
double length_of(const TriMesh& mesh, std::span<const EdgePoint> way);

}  // namespace film::surface
