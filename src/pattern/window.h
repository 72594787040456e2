#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/units.h"
#include "geometry/trimesh.h"
#include "pattern/piece.h"

namespace film::pattern {

/// Rules for film on windows. All figures common practice, no source; a shop changes them.
struct WindowRules {
  Mm edge_gap{2};  ///< kept bare along seals, so that the film's edge lies on glass
  /// Edges at which the glass goes on below the seal (a door glass at its belt): by name.
  std::vector<std::string> below{"belt"};
  Mm below_by{12};  ///< how far the film goes on there
};

/// The piece with the allowances of a window: along seals and gaps held back by the edge gap, below
/// the named edges extended. `extend` (pattern/allowance.h) makes the cut from it. Its grain is
/// along: film for windows shrinks along the roll only.
Piece with_window_allowances(Piece piece, const WindowRules& rules);

/// The flat piece turned so that the smallest box round it (found within 0.01 degree) has its
/// long side along +x, from the origin on.
std::vector<Vec2> squared(std::span<const Vec2> flat);

/// How far the film must draw together by heat to lie on a curved pane, for one way to lay it.
struct ShrinkNeed {
  double greatest = 0;  ///< share of its length, at the edge where it is most
  double mean = 0;      ///< over the pane
};

/// What a curved pane asks of flat film.
struct WindowShrink {
  ShrinkNeed along;       ///< the roll (and the shrinking) lies along +x of the flat piece
  ShrinkNeed across;      ///< the roll lies along +y
  bool lay_along = true;  ///< the way that asks for less
  double curvature =
      0;  ///< of the whole pane: integral of Gaussian curvature, radians (of solid angle)
  double stretched = 0;  ///< greatest stretch asked for instead where the pane is saddle-shaped;
                         ///< heat cannot give it
  std::string advice;    ///< for people
};

/// Film laid on the pane without stretch, fixed along the middle line in the direction of
/// the roll, keeps its width everywhere; at the distance s from that line its length must become G
/// times what it is, where G'' = -K G, G = 1 and G' = 0 on the line (K: Gaussian curvature). The
/// share to be shrunk is 1 - G. On a sphere of radius R, G = cos(s / R); on a cylinder or cone
/// nothing.
/// `surface` is a clean disk and `flat` its flattening (surface/flatten.h), squared. Cost:
/// O(n + cells).
/// Source: geodesic parallel coordinates, do Carmo, Differential Geometry of Curves and Surfaces,
/// 4-6 (from memory).
WindowShrink shrink_of(const TriMesh& surface, std::span<const Vec2> flat);

}  // namespace film::pattern
