#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "geometry/trimesh.h"
#include "geometry/vec.h"
#include "surface/film.h"

namespace film::surface {

/// What a flattening makes as small as it can.
enum class Mode {
  neutral,         ///< mean symmetric Dirichlet: shape kept, stretch and squeeze alike
  least_energy,    ///< the film's energy: stretch is cheap, squeeze dear
  no_compression,  ///< every stretch at least 1, the greatest as small as possible
  least_ratio,     ///< greatest stretch over least stretch
};

struct FlattenOptions {
  Mode mode = Mode::neutral;
  FilmProperties film;  ///< used by least_energy
  /// Direction in the surface's frame that is to lie along +x on the flat film; none: the longest
  /// direction of the piece.
  std::optional<Vec3> grain;
  /// Upper bound on Newton steps in one go; reached only by hostile shapes.
  std::size_t greatest_iterations = 150;
};

/// Extremes of the stretch (panel length over film length) over all triangles and directions.
struct StretchRange {
  double min = 1;
  double max = 1;
  double log_ratio_max = 0;  ///< ln(max / min)
};

/// A surface laid flat. Film frame: mm, +x along the grain, face up, the surface seen from its
/// outside; the bounding box starts at the origin.
struct Flattening {
  std::vector<Vec2> flat;              ///< for each vertex of the surface
  std::size_t flips = 0;               ///< triangles without positive area (exact); always 0
  std::size_t boundary_crossings = 0;  ///< pairs of boundary edges that meet (exact); always 0
  double sd_mean = 4;                  ///< area-weighted mean symmetric Dirichlet; 4 is perfect
  StretchRange stretch;
  std::size_t iterations = 0;  ///< Newton steps taken
};

/// Lays a clean surface (surface/clean.h) flat. Deterministic for any number of threads.
/// Never returns a flipped triangle or a boundary that touches itself: such an end is an error.
/// Errors: invalid_input (not a clean disk), unsupported (no flip-free flat shape was found),
/// cancelled.
/// Method, sources and measurements: docs/algorithms/surface.md.
Result<Flattening> flatten(const TriMesh& surface, const FlattenOptions& options,
                           const Context& context);

/// The figures of a given flat shape: flips, crossings, distortion. `flat` is not changed.
Flattening measure(const TriMesh& surface, std::vector<Vec2> flat);

}  // namespace film::surface
