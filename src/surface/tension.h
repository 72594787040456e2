#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "base/units.h"
#include "geometry/trimesh.h"
#include "geometry/vec.h"
#include "surface/film.h"

namespace film::surface {

struct TensionOptions {
  /// Share of its stiffness with which folded film still resists. Basis: invented, small: a fold
  /// of thin film costs next to nothing.
  double folding_cost = 1e-3;
  /// Distance between neighbouring fingers as they are drawn; how wide real ones are depends on
  /// film, glue and hand. Basis: invented.
  Mm finger_spacing{20};
  std::size_t greatest_iterations = 200;
};

/// How the film lies on one triangle once it has settled.
enum class Lie {
  taut,      ///< pulled both ways
  wrinkled,  ///< pulled one way, folded across it
  slack,     ///< pulled no way
};

struct TriangleTension {
  Lie lie = Lie::taut;
  /// Unit, on the flat film: along the folds where wrinkled or slack, else of the greatest stress.
  Vec2 direction{1, 0};
  /// Greatest stress, per thickness and stiffness across the grain.
  double tension = 0;
  /// Share of the film's width across the folds that has to go; 0 where taut.
  double surplus = 0;
};

/// One fold of film that will not lie down, along its crest.
struct Finger {
  std::vector<Vec2> on_film;
  std::vector<Vec3> on_panel;  ///< the same points
  double length = 0;           ///< mm on the panel
  double gathers = 0;          ///< width of film it takes up at its widest, mm
};

/// A connected part of the panel where more width has to go than the film hides.
struct FingerArea {
  double area = 0;              ///< of the panel, mm^2
  double surplus = 0;           ///< film area that has to go, mm^2
  Vec3 place;                   ///< where most has to go, on the panel
  std::vector<Finger> fingers;  ///< longest first
};

/// The laid film after it has slid over the wet panel and folded as it likes, its edges held.
struct TensionField {
  std::vector<TriangleTension> triangles;
  std::vector<FingerArea> areas;  ///< greatest surplus first
  double taut_area = 0;           ///< of the panel, mm^2
  double wrinkled_area = 0;
  double slack_area = 0;
  double energy = 0;  ///< stored, per thickness and stiffness across the grain, mm^2
  /// The film point that has come to lie on each vertex of the panel.
  std::vector<Vec2> settled;
  std::size_t iterations = 0;
};

/// Where a flat piece laid on its panel stays taut and where it folds (tension field theory): the
/// least relaxed energy of the film over all ways in which its inside can slide over the panel,
/// while its edges, openings included, stay where they were laid. `flat` is indexed like the
/// surface's vertices and has no flips; surface in mm. Of the film's properties it uses stiffness,
/// contraction and the finger threshold. Deterministic.
/// Errors: invalid_input (lengths differ, a flip, a film that fails its check), cancelled.
/// Cost: some tens of sparse factorisations; 1 s for 10,000 triangles.
/// Sources and derivation: docs/algorithms/surface.md. Tested by
/// tests/unit/surface/tension_test.cpp.
Result<TensionField> settle(const TriMesh& surface, std::span<const Vec2> flat,
                            const FilmProperties& film, const TensionOptions& options,
                            const Context& context);

}  // namespace film::surface
