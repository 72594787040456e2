#pragma once

#include <string>

#include "formats/drawing.h"

namespace film::formats {

/// The drawing as ASCII DXF of release R12 (AC1009) with $INSUNITS in millimetres: a layer for each
/// layer, a closed POLYLINE for each ring, an open one for each line, TEXT for writing. Widths,
/// dashes and fills are left out; the stroke colour becomes the nearest of the seven basic
/// colours. Coordinates have six decimals. Same drawing, same bytes.
/// Source: Autodesk, "DXF Reference" (header variables, ENTITIES section: POLYLINE, VERTEX,
/// SEQEND, TEXT). The subset is described in docs/formats/drawing.md.
std::string write_dxf(const Drawing& drawing);

}  // namespace film::formats
