#pragma once

#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "base/units.h"
#include "geometry/trimesh.h"

namespace film::surface {

/// A surface with fewer triangles.
struct Decimated {
  TriMesh mesh;
  std::vector<VertexIndex> source_vertex;  ///< for each vertex, the given one whose place it has
  /// Proved: no point of either surface lies farther from the other (geometry/mesh_distance.h).
  Mm error{0};
};

/// Draws edges together, least harm first, as long as the surface stays within `within` of the
/// given one, both ways. Topology stays, the boundary is drawn together only along itself, and no
/// triangle is turned over by more than 45 degrees. Requires a clean mesh. Deterministic.
/// Errors: cancelled. Cost: O(n log n).
/// Source: M. Garland, P. Heckbert, "Surface simplification using quadric error metrics", SIGGRAPH
/// 1997; here a vertex is drawn onto a neighbour, so the kept ones stay in their places; the
/// quadrics give the order only, and the error is measured.
Result<Decimated> decimate(const TriMesh& mesh, Mm within, const Context& context);

}  // namespace film::surface
