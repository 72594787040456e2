#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <utility>
#include <vector>

#include "geometry/trimesh.h"

namespace film::surface::detail {

/// A side of a triangle: number 3 t + k is the side of triangle t from its corner k to corner k+1.
using SideIndex = std::uint32_t;
constexpr SideIndex kNoSide = std::numeric_limits<SideIndex>::max();

constexpr SideIndex next_side(SideIndex s) { return s % 3 == 2 ? s - 2 : s + 1; }
constexpr SideIndex previous_side(SideIndex s) { return s % 3 == 0 ? s + 2 : s - 1; }

inline VertexIndex start_of(std::span<const Triangle> triangles, SideIndex s) {
  return triangles[s / 3][s % 3];
}
inline VertexIndex end_of(std::span<const Triangle> triangles, SideIndex s) {
  return start_of(triangles, next_side(s));
}

/// All sides grouped by the undirected edge they lie on. Groups are in the order of their smaller
/// vertex, then of the first side; O(n) by counting.
struct EdgeGroups {
  std::vector<SideIndex> sides;            ///< grouped
  std::vector<std::uint32_t> group_start;  ///< one more than there are edges
  [[nodiscard]] std::size_t count() const { return group_start.size() - 1; }
  [[nodiscard]] std::span<const SideIndex> group(std::size_t edge) const {
    return std::span(sides).subspan(group_start[edge], group_start[edge + 1] - group_start[edge]);
  }
};
EdgeGroups group_edges(std::span<const Triangle> triangles, std::size_t vertex_count);

/// For each side the side across the same edge, or kNoSide on the boundary. Requires at most two
/// triangles at an edge. O(n).
std::vector<SideIndex> sides_across(std::span<const Triangle> triangles, std::size_t vertex_count);

/// Boundary loops of an oriented manifold as vertex indices, surface on the left; in the order of
/// their first side. O(n).
std::vector<std::vector<VertexIndex>> loops_of(std::span<const Triangle> triangles,
                                               std::span<const SideIndex> across);

/// For each vertex the triangles at it, as one array and starts.
struct VertexTriangles {
  std::vector<std::uint32_t> triangles;
  std::vector<std::uint32_t> start;
  [[nodiscard]] std::span<const std::uint32_t> at(VertexIndex v) const {
    return std::span(triangles).subspan(start[v], start[v + 1] - start[v]);
  }
};
VertexTriangles triangles_at_vertices(std::span<const Triangle> triangles,
                                      std::size_t vertex_count);

}  // namespace film::surface::detail
