#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "base/units.h"
#include "geometry/trimesh.h"
#include "geometry/vec.h"
#include "surface/film.h"
#include "surface/reach.h"

namespace film::surface {

struct SeamOptions {
  ReachOptions reach;
  std::vector<double> visibility;  ///< as in ReliefOptions
  /// How far the part laid first reaches under the other. Basis: common practice, no source.
  Mm overlap{6};
  std::size_t greatest_seams = 4;
  /// Share of the area that may be past the film's limits before a seam is set for it. Basis:
  /// invented.
  double greatest_over_share = 0.10;
};

/// A line along which two pieces meet.
struct Seam {
  std::vector<Vec3> on_panel;  ///< from edge to edge
  std::vector<Vec2> on_film;   ///< the same line on the flat piece without seams
  Mm length{0};
  double visibility = 1;  ///< mean over its length
  std::string words;
};

/// One of the pieces.
struct SeamPart {
  double area = 0;        ///< of the panel, mm^2
  Reach reach;            ///< of the part laid flat on its own, the overlap included
  double over_share = 0;  ///< of its area past the film's limits
  double peak_stretch = 1;
  double least_stretch = 1;
};

struct SeamPlan {
  std::vector<Seam> seams;  ///< none: none is needed, or none was found
  std::vector<SeamPart> parts;
  bool covered = true;  ///< every part is reached and within the film's limits
  std::string words;
};

/// Divides a panel where one piece does not do: the roll does not reach it, or more of it than
/// allowed lies past the film's limits. For the roll, the cheapest line from edge to edge is taken
/// in the strip that leaves both sides reachable; for the limits, the cheapest lines through the
/// places that gather curvature are tried, and the one kept that leaves the least area past the
/// limits. Parts that still do not do are divided again. `flat` is the surface's flat shape.
/// Deterministic. Errors: cancelled. Cost: O(n log n) a seam for the roll, a dozen warm re-solves
/// (surface/relief.h) a seam for the limits.
Result<SeamPlan> plan_seams(const TriMesh& surface, std::span<const Vec2> flat,
                            const FilmProperties& film, const SeamOptions& options,
                            const Context& context);

}  // namespace film::surface
