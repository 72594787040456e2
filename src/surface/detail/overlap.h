#pragma once

#include <span>
#include <utility>
#include <vector>

#include "geometry/trimesh.h"
#include "geometry/vec.h"

namespace film::surface::detail {

/// Pairs of boundary edges of a flat shape that meet (exact): edges that share no vertex but have
/// a common point, and neighbours that fold back on each other. Each edge is named by the number
/// of its start in the loops laid end to end. O(n) for evenly sized edges.
std::vector<std::pair<std::size_t, std::size_t>> boundary_meetings(
    std::span<const std::vector<VertexIndex>> loops, std::span<const Vec2> flat);

/// Width to which the lips of a cut are parted where they would touch, mm: less than a knife's
/// play.
constexpr double kLipGap = 0.02;

/// Draws boundary vertices where the piece touches itself inward by up to kLipGap, so that the lips
/// of a cut lie apart. Shapes that overlap by more stay as they are.
void part_lips(std::span<const std::vector<VertexIndex>> loops, std::vector<Vec2>& flat);

}  // namespace film::surface::detail
