#pragma once

#include <optional>
#include <span>
#include <vector>

#include "geometry/trimesh.h"
#include "surface/detail/topology.h"

namespace film::surface::detail {

/// A first flat shape without flips, whatever the disk: the longest loop on a circle, holes closed
/// by a virtual vertex each, every inner vertex at a positively weighted mean of its neighbours.
/// Scaled to the surface's area. Nothing when rounding flips a triangle all the same.
/// Source: W. T. Tutte, "How to draw a graph", Proc. London Math. Soc. 13, 1963; M. Floater,
/// "Parametrization and smooth approximation of surface triangulations", CAGD 14, 1997 (positive
/// weights). Weights: cotangents, held above a small share of the mean.
std::optional<std::vector<Vec2>> flip_free_start(const TriMesh& surface,
                                                 std::span<const SideIndex> across);

/// Triangles whose flat corners do not run counter-clockwise (exact).
std::size_t count_flips(std::span<const Triangle> triangles, std::span<const Vec2> flat);

}  // namespace film::surface::detail
