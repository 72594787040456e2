#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <queue>
#include <span>
#include <utility>
#include <vector>

#include "geometry/trimesh.h"
#include "surface/detail/topology.h"

namespace film::surface::detail {

/// Distance of each vertex from the nearest of `sources` along the edges of the triangles, with the
/// vertices at `points` (on the surface or laid flat); infinite past `reach`. O(n log n).
/// Source: E. W. Dijkstra, "A note on two problems in connexion with graphs", 1959.
template <typename Point>
std::vector<double> distances_along_edges(std::span<const Triangle> triangles,
                                          const VertexTriangles& stars,
                                          std::span<const Point> points,
                                          std::span<const VertexIndex> sources,
                                          double reach = std::numeric_limits<double>::infinity()) {
  std::vector<double> far(points.size(), std::numeric_limits<double>::infinity());
  using Entry = std::pair<double, VertexIndex>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  for (const VertexIndex v : sources) {
    far[v] = 0;
    queue.emplace(0.0, v);
  }
  while (!queue.empty()) {
    const auto [d, v] = queue.top();
    queue.pop();
    if (d > far[v]) continue;
    for (const std::uint32_t t : stars.at(v)) {
      for (const VertexIndex w : triangles[t]) {
        const double next = d + distance(points[v], points[w]);
        if (next >= far[w] || next > reach) continue;
        far[w] = next;
        queue.emplace(next, w);
      }
    }
  }
  return far;
}

}  // namespace film::surface::detail
