#include "surface/detail/geodesic.h"

#include <algorithm>
#include <cmath>
#include <queue>
#include <utility>

namespace film::surface::detail {
namespace {

/// Where the two points of an edge lie; straightened ones stay this far from its ends, so that
/// cutting leaves no slivers.
constexpr double kShares[2] = {1.0 / 3, 2.0 / 3};
constexpr double kLeastShare = 0.15;
constexpr int kSweeps = 12;

}  // namespace

PathGraph::PathGraph(const TriMesh& surface, std::span<const double> cost)
    : surface_(surface),
      cost_(cost),
      at_vertex_(triangles_at_vertices(surface.triangles, surface.points.size())),
      boundary_(surface.points.size(), 0),
      edges_(surface.triangles.size(), {kNone, kNone, kNone}) {
  const auto across = sides_across(surface.triangles, surface.points.size());
  for (SideIndex s = 0; s < across.size(); ++s) {
    const VertexIndex a = start_of(surface.triangles, s);
    const VertexIndex b = end_of(surface.triangles, s);
    if (across[s] == kNoSide) {
      boundary_[a] = boundary_[b] = 1;
    } else if (s < across[s]) {
      const auto edge = static_cast<std::uint32_t>(ends_.size());
      edges_[s / 3][s % 3] = edges_[across[s] / 3][across[s] % 3] = edge;
      ends_.push_back({std::min(a, b), std::max(a, b)});
      beside_.push_back({s / 3, across[s] / 3});
    }
  }
}

EdgePoint PathGraph::point(Node node) const {
  const auto n = static_cast<Node>(surface_.points.size());
  if (node < n) return {node, node, 0};
  const Ends& ends = ends_[(node - n) / 2];
  return {ends.a, ends.b, kShares[(node - n) % 2]};
}

bool PathGraph::on_boundary(Node node) const {
  return node < surface_.points.size() && boundary_[node] != 0;
}

PathGraph::Reached PathGraph::from(std::span<const Node> sources,
                                   const std::function<bool(Node)>& allowed) const {
  Reached reached{std::vector<double>(node_count(), std::numeric_limits<double>::infinity()),
                  std::vector<Node>(node_count(), kNone)};
  using Entry = std::pair<double, Node>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  for (const Node s : sources) {
    reached.cost[s] = 0;
    queue.emplace(0.0, s);
  }
  const auto n = static_cast<Node>(surface_.points.size());
  const std::span<const Vec3> points(surface_.points);
  while (!queue.empty()) {
    const double so_far = queue.top().first;
    const Node node = queue.top().second;
    queue.pop();
    if (so_far > reached.cost[node]) continue;
    if (on_boundary(node) && reached.before[node] != kNone) continue;
    const Vec3 here = point(node).at(points);
    const auto step = [&](Node to, double per_mm) {
      if (allowed && !allowed(to)) return;
      const double cost = so_far + per_mm * distance(here, point(to).at(points));
      if (cost >= reached.cost[to]) return;
      reached.cost[to] = cost;
      reached.before[to] = node;
      queue.emplace(cost, to);
    };
    const auto steps_in = [&](std::uint32_t t) {
      const Triangle& c = surface_.triangles[t];
      const double per_mm = (cost_[c[0]] + cost_[c[1]] + cost_[c[2]]) / 3;
      for (std::size_t k = 0; k < 3; ++k) {
        const std::uint32_t edge = edges_[t][k];
        // Points of the node's own edge would make the line run along it.
        const bool own_edge =
            node < n ? c[k] == node || c[(k + 1) % 3] == node : edge == (node - n) / 2;
        if (edge != kNone && !own_edge) {
          step(n + 2 * edge, per_mm);
          step(n + 2 * edge + 1, per_mm);
        }
        const VertexIndex corner = c[k];
        const std::uint32_t opposite = edges_[t][(k + 1) % 3];
        if (node < n) {
          // Along an edge, but not along the boundary.
          const std::size_t from = c[0] == node ? 0 : c[1] == node ? 1 : 2;
          const std::size_t side = (from + 1) % 3 == k ? from : k;
          if (corner != node && edges_[t][side] != kNone) step(corner, per_mm);
        } else if (opposite != kNone && opposite == (node - n) / 2) {
          step(corner, per_mm);
        }
      }
    };
    if (node < n) {
      for (const std::uint32_t t : at_vertex_.at(node)) steps_in(t);
    } else {
      for (const std::uint32_t t : beside_[(node - n) / 2]) steps_in(t);
    }
  }
  return reached;
}

SurfacePath PathGraph::line(const Reached& reached, Node node) const {
  SurfacePath path;
  if (!std::isfinite(reached.cost[node])) return path;
  std::vector<std::uint32_t> crossed;
  const auto n = static_cast<Node>(surface_.points.size());
  for (Node at = node; at != kNone; at = reached.before[at]) {
    path.push_back(point(at));
    crossed.push_back(at < n ? at : n + (at - n) / 2);
  }
  std::sort(crossed.begin(), crossed.end());
  if (std::adjacent_find(crossed.begin(), crossed.end()) != crossed.end()) return {};
  straighten(path);
  return path;
}

void PathGraph::straighten(SurfacePath& path) const {
  // With the neighbours fixed the length is convex in the share; unfolding both triangles about the
  // edge gives its minimum: the distances to the edge's line divide the stretch between the feet.
  const std::span<const Vec3> points(surface_.points);
  for (int sweep = 0; sweep < kSweeps; ++sweep) {
    for (std::size_t i = 1; i + 1 < path.size(); ++i) {
      EdgePoint& p = path[i];
      if (p.is_vertex()) continue;
      const Vec3 a = points[p.a];
      const Vec3 edge = points[p.b] - a;
      const double square = squared_length(edge);
      const auto foot = [&](Vec3 q) { return dot(q - a, edge) / square; };
      const auto height = [&](Vec3 q) { return length(cross(q - a, edge)); };
      const Vec3 before = path[i - 1].at(points);
      const Vec3 after = path[i + 1].at(points);
      const double h0 = height(before);
      const double h1 = height(after);
      if (!(h0 + h1 > 0)) continue;
      p.t = std::clamp((foot(before) * h1 + foot(after) * h0) / (h0 + h1), kLeastShare,
                       1 - kLeastShare);
    }
  }
}

}  // namespace film::surface::detail
