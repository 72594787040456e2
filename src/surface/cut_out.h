#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "base/units.h"
#include "geometry/trimesh.h"

namespace film::surface {

/// How a panel is to be cut out of a larger scan.
struct CutOutOptions {
  /// A closed line of points near the surface, in order; neighbours are joined by geodesics.
  std::vector<Vec3> points;
  /// The surface also ends at edges where it bends more sharply than this.
  std::optional<Angle> crease;
  /// A place on the panel; without it the smaller side of the line is the panel. Needed when there
  /// are no points.
  std::optional<Vec3> inside;
  Mm reach{50};  ///< how far a point may lie from the surface
};

/// What a stretch of the panel's boundary was on the scan.
enum class Boundary {
  drawn,   ///< along the line; `leg` says between which points
  crease,  ///< a sharp edge
  rim,     ///< where the scan ends: a panel gap, or the edge of an opening
};

struct BoundaryRun {
  Boundary boundary = Boundary::rim;
  std::size_t leg = 0;            ///< of a drawn run: from point `leg` to the one after it
  bool turns_away = false;        ///< of a crease: the surface beyond bends back, as a flange does
  bool of_opening = false;        ///< not on the outer loop
  double length = 0;              ///< mm
  std::vector<VertexIndex> path;  ///< on the panel, in loop order; the last one starts the next run
};

struct CutOut {
  TriMesh panel;
  std::vector<BoundaryRun> boundary;  ///< outer loop first; covers every loop
  double line_length = 0;             ///< of all geodesics, mm
};

/// Cuts a panel out of a scan. Triangles that the line crosses are divided along it; the shape of
/// the surface stays as it is, except that the line runs through a vertex that it passes within a
/// thousandth of an edge. Triangles must be turned alike (surface/clean.h turns them).
///
/// Errors: invalid_input (fewer than three points and no crease; a point past `reach`, naming it;
/// neighbouring points that are one; a line that crosses or runs along itself, naming the place; a
/// line with the same side left and right of it), not_found (points on parts that do not meet),
/// cancelled. Cost: O(p n log n), p points. Method: surface/geodesic.h;
/// docs/algorithms/cut_out.md.
Result<CutOut> cut_out(const TriMesh& scan, const CutOutOptions& options,
                       const Context& context = {});

}  // namespace film::surface
