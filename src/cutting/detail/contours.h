#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "cutting/plan.h"

namespace film::cutting::detail {

/// A line to be cut before its order and start are chosen.
struct Line {
  std::size_t shape = 0;
  ContourKind kind = ContourKind::outline;
  Polyline points;  ///< a ring without repeated closing point, or a slit from inside outward
  Box box;
  std::vector<double> starts;  ///< places where a ring may be entered, mm along it from points[0];
                               ///< one for a slit
};

/// Where a ring may be entered: on straight stretches, away from their ends by `clear` where the
/// ring has any such stretch; at most `most` places, spread along the ring. Never empty.
std::vector<double> entry_places(const Ring& ring, double clear, std::size_t most);

/// The point `at` mm along the closed ring.
Vec2 point_along(const Ring& ring, double at);

/// The closed ring as a chain that begins and ends at the place `at` mm along it and then goes on
/// for `beyond` mm.
Polyline opened_at(const Ring& ring, double at, double beyond);

/// All lines of the shapes, thinned to what the knife can follow, with their entry places.
std::vector<Line> lines_of(const std::vector<Shape>& shapes, const KnifeSettings& knife);

/// Which lines must come before which (indices into `lines`): slits and holes before their
/// outline, a shape inside a hole before the hole.
std::vector<std::pair<std::size_t, std::size_t>> precedences(const std::vector<Line>& lines);

}  // namespace film::cutting::detail
