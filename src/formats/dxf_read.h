#pragma once

#include <string_view>

#include "formats/drawn_loops.h"

namespace film::formats {

/// The closed lines of an ASCII DXF drawing (R12 to 2018): LINE, ARC, CIRCLE, ELLIPSE, LWPOLYLINE
/// and POLYLINE with bulges, SPLINE, and INSERT of blocks, nested, scaled, turned and mirrored, in
/// arrays. Entities seen against the z axis (extrusion 0,0,-1) are turned over. Frozen or hidden
/// layers are left out, and said. Units come from $INSUNITS.
/// Errors: invalid_input with entity and line (not a DXF, truncated, a coordinate that is not a
/// finite number, units not given: pass mm_per_unit), unsupported (binary DXF), too_large (more
/// points than allowed, blocks nested over 16 deep or forming a ring).
/// Source: DXF Reference (Autodesk, 2012), ENTITIES, BLOCKS and HEADER sections.
Result<DrawnLoops> read_dxf(std::string_view bytes, const DrawingOptions& options = {});

}  // namespace film::formats
