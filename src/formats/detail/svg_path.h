#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "geometry/curves.h"

namespace film::formats::detail {

/// One subpath, flattened after the map.
struct SvgLine {
  Polyline points;
  bool closed = false;
};

/// Flattens path data: every command of SVG 1.1 (M L H V C S Q T A Z, absolute and relative).
/// Errors: invalid_input, saying at which character; too_large (past `most_points`).
Result<std::vector<SvgLine>> svg_path(std::string_view data, const Affine& map, double flatness,
                                      std::size_t most_points);

/// The arc of an A command from `from` to `to`: centre form by SVG 1.1, F.6.5 and F.6.6. Radii
/// must not be 0.
struct SvgArc {
  double rx = 0, ry = 0;
  double turn = 0;  ///< radians, of the x axis
  bool large = false, sweep = false;
};
EllipseArc centred(const SvgArc& arc, Vec2 from, Vec2 to);

}  // namespace film::formats::detail
