#pragma once

#include <array>
#include <span>
#include <string>
#include <vector>

#include "base/units.h"
#include "geometry/trimesh.h"
#include "geometry/vec.h"
#include "surface/film.h"
#include "surface/reach.h"
#include "surface/strain.h"

namespace film::surface {

/// What the axes of the surface's frame are called in words.
enum class Directions {
  of_film,     ///< nothing is known: along and across the roll
  of_vehicle,  ///< x forward, y left, z up
};

struct BulkOptions {
  Mm roll_width = Mm::from_inches(60);
  Mm hold{50};  ///< film left beyond the panel on each side for the hands (common practice)
  /// Slack cuts stop this far from the panel's edge (common practice).
  Mm slack_stop{25};
  Mm least_pull{0.5};  ///< smaller pulls are left out: a hand does not feel them
  Directions directions = Directions::of_film;
};

/// Where film is tacked before pulling.
struct Anchor {
  Vec2 on_film;
  Vec3 on_panel;
};

/// Film cut away or open before stretching, as a line on the sheet.
struct SlackCut {
  enum class Why { corner, bay, opening };
  Why why = Why::corner;
  std::array<Vec2, 2> line;
};

/// One pull of the film's edge, or a push where film is left over.
struct Pull {
  Vec2 from;           ///< on the film, at the anchor
  Vec2 to;             ///< on the film, where the hand is: at the edge of the panel
  Vec3 at;             ///< the same place on the panel
  Vec3 direction;      ///< on the panel there, unit
  Mm amount{0};        ///< by which the film's edge is drawn; negative: film left over, to work out
  double stretch = 1;  ///< mean on the way
  Mm draws_back{0};    ///< when it is released with hot water before the final cut
  std::string words;
};

/// How to lay an uncut sheet so that it comes to lie with the computed strain.
struct BulkPlan {
  std::array<Vec2, 4> sheet;  ///< corners on the film, counter-clockwise
  Mm length{0};               ///< of roll to cut
  Mm width{0};                ///< across the roll
  std::vector<Anchor> anchors;
  std::vector<SlackCut> slack_cuts;
  std::vector<Pull> pulls;  ///< in order
  Mm draws_back_along{0};   ///< all of it, over the panel's length along the roll
  Mm draws_back_across{0};
  std::vector<std::string> steps;  ///< what to do, in order, in words
};

/// Plans the laying of a bulk sheet from the strain of the flat shape.
///
/// Anchor: the calmest place far from the edge; where the panel is wider than the roll, two on one
/// side. Pulls: along straight lines on the film from the anchor to the edge, the film between must
/// grow by the integral of (stretch - 1); of each eighth of the compass the greatest counts. The
/// greatest goes first and its opposite next, so that the film stays centred; film left over goes
/// last. Slack cuts: at corners where the panel turns away, into bays of the outline, through
/// openings. `strains` are those of `flat` (surface/strain.h), `flat` in the film frame.
/// Basis of the order and of the slack cuts: common practice, no source. O(n log n).
BulkPlan plan_bulk(const TriMesh& surface, std::span<const Vec2> flat,
                   std::span<const TriangleStrain> strains, const Reach& reach,
                   const FilmProperties& film, const BulkOptions& options);

}  // namespace film::surface
