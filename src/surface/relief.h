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
#include "surface/flatten.h"
#include "surface/strain.h"

namespace film::surface {

struct ReliefOptions {
  /// Cost of a mm of cut at each vertex: 1 in plain sight, near 0 where nobody looks; each above 0.
  /// Empty: usual_visibility (surface/visibility.h).
  std::vector<double> visibility;
  /// A cut pays when the surplus it takes out, over its length weighted by visibility, comes to at
  /// least this: half the width that its wedge opens at the edge. Basis: invented.
  Mm least_gain{0.75};
  /// No cuts are looked for while less than this share of the area is in fingers or past the film's
  /// limits. Basis: invented; the same as for a pre-cut piece (surface/method.h).
  double least_share = 0.01;
  std::size_t greatest_cuts = 8;
  std::size_t trials = 12;  ///< cuts tried in a round, the likeliest ones
  /// On a finer surface none are tried: it would take minutes, and a coarser one tells the same.
  std::size_t greatest_triangles = 100'000;
};

/// A cut from the edge inwards that lets film lie.
struct ReliefCut {
  std::vector<Vec3> on_panel;  ///< from the edge to its inner end
  std::vector<Vec2> on_film;   ///< the same line on the flat piece without cuts
  Mm length{0};                ///< on the panel
  Mm opening{0};               ///< width of the wedge that opens at the edge of the flat piece
  double visibility = 1;       ///< mean over its length
  double surplus = 0;          ///< film it takes out of folds and overstretch, mm^2
  double gain_per_cm = 0;      ///< mm^2 of surplus for each cm, visibility left aside
  double least_stretch = 1;    ///< of the whole panel once it and the cuts before it are made
  double peak_stretch = 1;
  std::string words;
};

/// Relief cuts in the order in which they pay.
struct Relief {
  std::vector<ReliefCut> cuts;
  double surplus_before = 0;  ///< film that finds no room, mm^2: see plan_relief
  double surplus_after = 0;
  std::string words;  ///< what the cuts do, or why there are none
};

/// What the film does once the cuts are made.
struct Relieved {
  Relief plan;
  TriMesh surface;        ///< the panel with its cuts open
  Flattening flattening;  ///< of that surface
  StrainReport report;    ///< of that flattening
};

/// Proposes relief cuts for a surface that lies flat under least energy. The *surplus* is the film
/// that finds no room: over the panel, squeeze past the film's finger threshold and stretch past
/// its tension limit, times area.
///
/// In each round lines are drawn from the edge towards where the surface gathers curvature, along
/// geodesics weighted by visibility; the likeliest are opened and the film let settle; the one that
/// takes out the most surplus for its weighted length is kept, if it pays. A line whose lips would
/// overlap on the flat film is no relief: there film is short.
/// `flat` is the surface's rest under least energy (Mode::least_energy). Deterministic.
/// Errors: cancelled. Cost: rounds * trials * O(n).
Result<Relieved> plan_relief(const TriMesh& surface, std::span<const Vec2> flat,
                             const FilmProperties& film, const ReliefOptions& options,
                             const Context& context);

/// The surplus of a flat shape, mm^2.
double surplus_of(const TriMesh& surface, std::span<const Vec2> flat, const FilmProperties& film);

}  // namespace film::surface
