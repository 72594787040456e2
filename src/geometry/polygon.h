#pragma once

#include <optional>
#include <span>
#include <vector>

#include "base/result.h"
#include "geometry/box.h"
#include "geometry/vec.h"

namespace film {

/// A closed chain of points; the last point joins the first, which is not repeated.
using Ring = std::vector<Vec2>;
/// An open chain of points.
using Polyline = std::vector<Vec2>;

/// A flat region, mm. Outer ring counter-clockwise, holes clockwise, no ring crosses itself or
/// another (checked by `check_polygon`; makers of polygons keep to it).
struct Polygon {
  Ring outer;
  std::vector<Ring> holes;

  friend bool operator==(const Polygon&, const Polygon&) = default;
};

/// Area with sign: positive for counter-clockwise rings. mm^2.
double signed_area(std::span<const Vec2> ring);
/// Area of the region: outer less holes. mm^2.
double area(const Polygon& polygon);
/// Length round a ring. mm.
double perimeter(std::span<const Vec2> ring);
double length_of(std::span<const Vec2> polyline);
Box bounding_box(const Polygon& polygon);

enum class Side { inside, boundary, outside };

/// Exact: where the point lies with respect to the ring (either orientation). O(n).
Side side_of(std::span<const Vec2> ring, Vec2 point);
Side side_of(const Polygon& polygon, Vec2 point);

/// Exact: no two edges of the ring share a point, neighbours apart. O(n log n) typical.
bool is_simple(std::span<const Vec2> ring);
/// At which point two rings meet, or one crosses or touches itself; nothing if all keep apart.
std::optional<Vec2> first_meeting(std::span<const Ring> rings);

/// Checks and repairs orientation: drops repeated points and a repeated closing point, turns the
/// outer ring counter-clockwise and holes clockwise.
/// Errors (invalid_input): a coordinate that is not finite, fewer than 3 distinct points, zero
/// area, a ring that crosses itself, rings that cross, a hole outside the outer ring or in another
/// hole.
Result<Polygon> make_polygon(Ring outer, std::vector<Ring> holes = {});

/// A rigid motion of the plane: turn counter-clockwise about the origin, then move. Never mirrors:
/// film has a face.
struct Placement {
  double turn = 0;  ///< radians
  Vec2 move;

  friend bool operator==(const Placement&, const Placement&) = default;
};

/// Quarter turns are exact: no rounding enters through sine and cosine.
Vec2 apply(const Placement& placement, Vec2 point);
Ring apply(const Placement& placement, std::span<const Vec2> ring);
Polygon apply(const Placement& placement, const Polygon& polygon);

/// Mirrors across the x axis (y -> -y) and restores ring orientation.
Polygon mirrored(const Polygon& polygon);

}  // namespace film
