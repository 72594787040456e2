#pragma once

#include <vector>

#include "base/units.h"
#include "geometry/polygon.h"

namespace film::layout::detail {

/// A corner of a convex part, with what it is to the outline of the whole region.
struct Corner {
  Vec2 at;
  bool outline_follows = true;  ///< the side to the next corner lies on the outline; else a cut
  bool convex = true;           ///< the outline is convex here
  bool known = false;           ///< `before` and `after` are set
  Vec2 before;                  ///< unit outward normals of the outline's two sides here
  Vec2 after;
};

/// A convex ring, counter-clockwise, no three corners in line.
using ConvexPart = std::vector<Corner>;

/// Cuts a region into convex parts that cover it and whose insides do not meet. Every corner is
/// a corner of the region, so nothing is rounded.
/// Ear clipping with holes bridged in, then neighbouring triangles are joined while the result
/// stays convex (S. Hertel, K. Mehlhorn, "Fast triangulation of simple polygons", 1983: at most
/// four times the least number of parts). O(n^2) typical, O(n^3) worst.
std::vector<ConvexPart> convex_parts(const Polygon& polygon);

/// The part turned about the origin.
ConvexPart turned(const ConvexPart& part, Angle turn);
/// The part mirrored through the origin; still counter-clockwise.
ConvexPart negated(const ConvexPart& part);

}  // namespace film::layout::detail
