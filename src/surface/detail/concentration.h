#pragma once

#include <cstddef>
#include <vector>

#include "geometry/trimesh.h"

namespace film::surface::detail {

/// Inner vertices round which the surface gathers positive curvature, strongest first, at most
/// `count`. The angle defects (Gauss-Bonnet: curvature of the smooth surface, as an integral) are
/// spread over a tenth of the surface's extent with the boundary held at zero, which quiets scan
/// noise and prefers places away from the edge, where a cut relieves more; the peaks are taken.
/// O(n^1.5).
std::vector<VertexIndex> curvature_peaks(const TriMesh& surface, std::size_t count);

}  // namespace film::surface::detail
