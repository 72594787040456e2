#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "geometry/trimesh.h"
#include "pattern/piece.h"

namespace film::pattern {

/// A stretch of a surface's boundary as a path of mesh vertices, in the order of `boundary_loops`
/// (surface on the left); its last vertex starts the next stretch. A path that closes on its first
/// vertex, or repeats it at the end, is a whole loop.
struct BoundaryPath {
  std::string name;
  EdgeKind kind = EdgeKind::gap;
  std::vector<VertexIndex> path;
};

/// The fold line and edge stretches of a panel that has been flattened: outer loop first and
/// counter-clockwise, openings clockwise, every stretch with its kind's default allowance
/// (pattern/allowance.h). `cut` equals `fold` until `extend` is called. Parts of the boundary
/// that no path covers are divided at their corners (pattern/edges.h) and named "edge 1" ...
///
/// `flat` has one position for each vertex, mm, film face up: seen from outside the panel the film
/// is not mirrored.
/// Errors (invalid_input): sizes that differ, a mirrored or self-crossing flat outline, a path
/// that does not follow the boundary or that overlaps another.
/// Cost: O(n log n).
Result<Piece> piece_from_surface(const TriMesh& surface, std::span<const Vec2> flat,
                                 std::span<const BoundaryPath> edges = {});

}  // namespace film::pattern
