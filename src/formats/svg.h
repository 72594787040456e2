#pragma once

#include <string>

#include "formats/drawing.h"

namespace film::formats {

/// The drawing as an SVG 1.1 picture of its physical size: width and height in mm, one user unit
/// a millimetre, a group for each layer with the layer's name as id. Coordinates are rounded to
/// 1/1000 mm. Same drawing, same bytes.
/// Source: W3C, "Scalable Vector Graphics (SVG) 1.1 (Second Edition)", 2011.
std::string write_svg(const Drawing& drawing);

}  // namespace film::formats
