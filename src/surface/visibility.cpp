#include "surface/visibility.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>

#include "surface/detail/along_edges.h"
#include "surface/detail/topology.h"

namespace film::surface {
namespace {

constexpr double kPlainSight = 1.0;
constexpr double kAtEdge = 0.5;
constexpr double kOnBodyLine = 0.6;
constexpr double kFacingDown = 0.3;
constexpr double kEdgeReach = 20;                               // mm
constexpr double kBodyLine = 20 * std::numbers::pi / 180;       // bend across an edge
const double kDown = std::cos(110 * std::numbers::pi / 180.0);  // of a normal against up

/// Distance from the boundary along mesh edges, as far as `reach`.
std::vector<double> distance_from_edge(const TriMesh& surface,
                                       std::span<const detail::SideIndex> across, double reach) {
  std::vector<VertexIndex> edge;
  for (detail::SideIndex s = 0; s < across.size(); ++s) {
    if (across[s] == detail::kNoSide) edge.push_back(detail::start_of(surface.triangles, s));
  }
  return detail::distances_along_edges<Vec3>(
      surface.triangles, detail::triangles_at_vertices(surface.triangles, surface.points.size()),
      surface.points, edge, reach);
}

}  // namespace

std::vector<double> usual_visibility(const TriMesh& surface, std::optional<Vec3> up) {
  const auto across = detail::sides_across(surface.triangles, surface.points.size());
  std::vector<double> cost(surface.points.size(), kPlainSight);
  const auto at_most = [&cost](VertexIndex v, double value) { cost[v] = std::min(cost[v], value); };
  const auto far = distance_from_edge(surface, across, kEdgeReach);
  for (VertexIndex v = 0; v < cost.size(); ++v) {
    if (far[v] <= kEdgeReach) at_most(v, kAtEdge);
  }
  std::vector<Vec3> normals;
  normals.reserve(surface.triangles.size());
  for (const Triangle& t : surface.triangles) {
    const Vec3 n = area_vector(surface, t);
    normals.push_back(n / length(n));
  }
  for (detail::SideIndex s = 0; s < across.size(); ++s) {
    if (across[s] == detail::kNoSide || across[s] < s) continue;
    if (dot(normals[s / 3], normals[across[s] / 3]) > std::cos(kBodyLine)) continue;
    at_most(detail::start_of(surface.triangles, s), kOnBodyLine);
    at_most(detail::end_of(surface.triangles, s), kOnBodyLine);
  }
  if (up) {
    for (std::size_t t = 0; t < normals.size(); ++t) {
      if (dot(normals[t], *up) > kDown * length(*up)) continue;
      for (const VertexIndex v : surface.triangles[t]) at_most(v, kFacingDown);
    }
  }
  return cost;
}

}  // namespace film::surface
