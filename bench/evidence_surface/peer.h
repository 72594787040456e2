#pragma once

#include <optional>
#include <vector>

#include "geometry/trimesh.h"
#include "geometry/vec.h"

namespace film::bench {

/// A flat shape from the peer library CGAL, from a general start: as-rigid-as-possible with its
/// linear systems solved by UMFPACK, at CGAL's own tolerance and number of steps.
/// Nothing without CGAL at build time, or when it fails.
std::optional<std::vector<Vec2>> peer_rigid(const TriMesh& surface);

/// The same by least-squares conformal maps, CGAL's default solver.
std::optional<std::vector<Vec2>> peer_conformal(const TriMesh& surface);

}  // namespace film::bench
