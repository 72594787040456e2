#pragma once

#include <string_view>

#include "formats/drawn_loops.h"

namespace film::formats {

/// The closed lines of an SVG drawing: path (every command), rect, circle, ellipse, polygon,
/// polyline, line, use, nested svg, transforms, viewBox with preserveAspectRatio. y is turned up.
/// Units come from a width or height in mm, cm, in, pt, pc or Q; a drawing that says only px or
/// nothing is asked about.
/// Errors: invalid_input with element and place (not XML, broken path data, a number that is not
/// finite, units not given: pass mm_per_unit), too_large (more points than allowed, `use` nested
/// over 16 deep).
/// Source: W3C SVG 1.1 (Second Edition) and SVG 2, chapters Coordinate systems, Paths, Basic
/// shapes; arcs by SVG 1.1 appendix F.6.
Result<DrawnLoops> read_svg(std::string_view bytes, const DrawingOptions& options = {});

}  // namespace film::formats
