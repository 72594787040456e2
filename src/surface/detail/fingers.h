#pragma once

#include <span>
#include <vector>

#include "geometry/trimesh.h"
#include "geometry/vec.h"
#include "surface/tension.h"

namespace film::surface::detail {

/// The connected parts where the surplus is above `threshold`, and in each the fingers: lines that
/// follow the direction of the folds from the places of greatest surplus, `spacing` mm apart.
/// Parts too small for a finger are left out. `film` is where the film lies, without flips.
std::vector<FingerArea> find_fingers(const TriMesh& surface, std::span<const Vec2> film,
                                     std::span<const TriangleTension> tensions, double threshold,
                                     double spacing);

}  // namespace film::surface::detail
