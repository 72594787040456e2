#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <span>
#include <vector>

#include "geometry/trimesh.h"
#include "surface/detail/cut.h"
#include "surface/detail/topology.h"

namespace film::surface::detail {

/// Shortest lines on a surface whose triangles cost differently per mm: a graph of its vertices and
/// two points on each inner edge, joined across triangles. Lines of even cost are at most 5 %
/// longer than the true geodesic on well shaped triangles, and `straightened` takes most of that.
/// Source: M. Lanthier, A. Maheshwari, J.-R. Sack, "Approximating weighted shortest paths on
/// polyhedral surfaces", SoCG 1997.
class PathGraph {
 public:
  using Node = std::uint32_t;  ///< a vertex, or past those a point on an edge
  static constexpr Node kNone = std::numeric_limits<Node>::max();

  /// `cost` per mm at each vertex, > 0; a triangle costs the mean of its corners. Both outlive
  /// this.
  PathGraph(const TriMesh& surface, std::span<const double> cost);

  /// Cost of reaching each node, and the node before it.
  struct Reached {
    std::vector<double> cost;
    std::vector<Node> before;
  };
  /// From all `sources` at once, over nodes that `allowed` (empty: all); lines end at the boundary
  /// and never run along it. O(n log n).
  [[nodiscard]] Reached from(std::span<const Node> sources,
                             const std::function<bool(Node)>& allowed = {}) const;

  /// The line from `node` back to its source, straightened within the triangles it crosses.
  /// Empty when the node was not reached or the line crosses an edge twice.
  [[nodiscard]] SurfacePath line(const Reached& reached, Node node) const;

  [[nodiscard]] EdgePoint point(Node node) const;
  [[nodiscard]] bool on_boundary(Node node) const;
  [[nodiscard]] std::size_t node_count() const { return surface_.points.size() + 2 * ends_.size(); }

 private:
  struct Ends {
    VertexIndex a, b;
  };
  void straighten(SurfacePath& path) const;

  const TriMesh& surface_;
  std::span<const double> cost_;
  VertexTriangles at_vertex_;
  std::vector<char> boundary_;                        // by vertex
  std::vector<Ends> ends_;                            // of each inner edge, a < b
  std::vector<std::array<std::uint32_t, 3>> edges_;   // of each triangle: inner edge or kNone
  std::vector<std::array<std::uint32_t, 2>> beside_;  // triangles of each inner edge
};

}  // namespace film::surface::detail
