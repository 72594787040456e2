#pragma once

#include <span>
#include <vector>

#include "base/result.h"
#include "formats/detail/dxf_groups.h"
#include "geometry/curves.h"

namespace film::formats::detail {

/// A line drawn by one entity, after the map.
struct DxfLine {
  Polyline points;
  bool closed = false;
};

/// What the entity draws; nothing when it is of a kind that draws no outline. `vertices` are the
/// VERTEX entities that follow a POLYLINE. `map` takes the entity's world coordinates to mm.
/// Errors: invalid_input, naming entity and line; unsupported (an entity tilted out of the plane,
/// a spline without control points).
Result<std::vector<DxfLine>> drawn(const DxfEntity& entity, std::span<const DxfEntity> vertices,
                                   const Affine& map, double flatness);

/// From the entity's own plane to the world's: its extrusion direction is z (the identity) or -z
/// (turned over). Source: DXF Reference, "Arbitrary Axis Algorithm". Errors: unsupported.
Result<Affine> own_plane(const DxfEntity& entity);

}  // namespace film::formats::detail
