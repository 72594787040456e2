#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "geometry/vec.h"

namespace film {

using VertexIndex = std::uint32_t;
using Triangle = std::array<VertexIndex, 3>;

/// A triangle surface in space, mm. Plain data as it came from a file or a generator: nothing is
/// promised about orientation, topology or quality (surface/clean.h makes a clean one).
struct TriMesh {
  std::vector<Vec3> points;
  std::vector<Triangle> triangles;

  friend bool operator==(const TriMesh&, const TriMesh&) = default;
};

/// Twice the area times the unit normal, by the right-hand rule.
inline Vec3 area_vector(const TriMesh& mesh, const Triangle& t) {
  return cross(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]);
}

/// Sum of the triangles' areas, mm^2.
double surface_area(const TriMesh& mesh);

/// The boundary as closed loops of vertex indices, each in the direction of its triangles' edges
/// (surface on the left, seen from outside). Longest loop in mm first, so the outer edge of a
/// panel leads and openings follow. Requires a manifold, consistently oriented mesh; loops of any
/// other mesh are cut short rather than wrong. O(n).
std::vector<std::vector<VertexIndex>> boundary_loops(const TriMesh& mesh);

}  // namespace film
