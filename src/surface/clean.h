#pragma once

#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "base/units.h"
#include "geometry/trimesh.h"

namespace film::surface {

struct CleanOptions {
  /// Vertices at most this far apart are one. The default is far below any scanner's noise.
  Mm weld{0.001};
  /// Openings with a longest loop up to this are pin holes of a scan and are closed; 0 closes none.
  Mm pin_hole_perimeter{0};
  /// A scanner's noise is smoothed away, no vertex moving farther than this (surface/denoise.h);
  /// 0 leaves every vertex where it is.
  Mm denoise_within{0};
  /// Triangles are taken out as long as the surface stays within this of what it was
  /// (surface/decimate.h); 0 keeps them all.
  Mm decimate_within{0};
  /// A surface whose largest extent lies outside is taken for one in the wrong unit.
  Mm least_extent{20};
  Mm greatest_extent{8000};
  std::size_t greatest_triangles = 4'000'000;
};

/// A surface that flattening accepts: finite, one connected piece, manifold, consistently
/// oriented, a disk or a disk with holes, no triangle without area, no vertex unused.
struct CleanMesh {
  static constexpr VertexIndex kDropped = std::numeric_limits<VertexIndex>::max();

  TriMesh mesh;
  std::vector<VertexIndex> source_vertex;     ///< for each clean vertex, one input vertex it was
  std::vector<VertexIndex> vertex_of_source;  ///< for each input vertex, its clean one or kDropped
  /// No point lies farther than this from the mended input, nor the other way round: what
  /// smoothing and taking triangles out have cost.
  Mm error{0};
  std::vector<std::string> mends;  ///< what was changed, in words; empty: nothing was
};

/// Welds, drops duplicate and degenerate triangles and unused vertices, joins the ends of edges
/// shorter than the weld distance, flips slivers lower than it away, turns triangles the same way
/// round (the way most of them had it), closes pin holes if asked, checks the topology, and smooths
/// and takes triangles out if asked.
/// Input and result in mm. Order of what is kept is kept.
/// Errors: invalid_input (empty, index out of range, a coordinate that is not finite, size that
/// asks for another unit, triangles without area that cannot be mended, edge with three triangles,
/// no consistent orientation, closed surface, handles, several parts), each saying what and where,
/// and what to cut; too_large; cancelled.
/// Cost: O(n) expected; a round more for each triangle of a chain without area. Tested by
/// tests/unit/surface/clean_test.cpp.
Result<CleanMesh> clean(const TriMesh& input, const CleanOptions& options, const Context& context);

}  // namespace film::surface
