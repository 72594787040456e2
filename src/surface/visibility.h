#pragma once

#include <optional>
#include <vector>

#include "geometry/trimesh.h"

namespace film::surface {

/// How much a cut shows at each vertex of a panel, as cost per mm: 1 in plain sight, less where the
/// eye does not rest. Within 20 mm of the edge, where film is tucked, 0.5; on a body line (a bend
/// of over 20 degrees between neighbouring triangles) 0.6; on faces that look down 0.3. The least
/// of these counts. `up` is unset where nobody knows it.
/// Basis: common practice, no source; the figures are invented. O(n log n).
std::vector<double> usual_visibility(const TriMesh& surface, std::optional<Vec3> up = std::nullopt);

}  // namespace film::surface
