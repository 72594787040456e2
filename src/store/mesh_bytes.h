#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "geometry/trimesh.h"

namespace film::store {

/// A surface as bytes, exact: "FWMESH1\n", two 32-bit counts, points as three doubles each,
/// triangles as three 32-bit indices each, everything little-endian.
std::string mesh_to_bytes(const TriMesh& mesh);
/// Errors: invalid_input (not such bytes, cut short, an index past the last point).
Result<TriMesh> mesh_from_bytes(std::string_view bytes);

}  // namespace film::store
