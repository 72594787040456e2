#pragma once

#include <cstddef>
#include <string_view>

#include "base/result.h"
#include "geometry/trimesh.h"

namespace film::formats::detail {

constexpr std::size_t kGreatestCorners = 16'000'000;

/// PLY 1.0, ascii or binary of either byte order: x, y, z of the element "vertex" and the index
/// list of "face"; other properties and elements are passed over. Polygons become fans. Source: G.
/// Turk, "The PLY polygon file format", 1994.
Result<TriMesh> read_ply(std::string_view bytes, double scale);

/// STL, ascii or binary; corners are not joined.
/// Source: 3D Systems, "StereoLithography Interface Specification", 1989 (from memory).
Result<TriMesh> read_stl(std::string_view bytes, double scale);

}  // namespace film::formats::detail
