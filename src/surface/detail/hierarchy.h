#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include <Eigen/Core>

#include "geometry/trimesh.h"

namespace film::surface::detail {

/// One coarsening of a surface: vertices, no two of them neighbours, were taken out, each by
/// drawing it along an edge onto a neighbour. The coarse vertices are a subset of the fine ones.
struct Coarsening {
  struct Removed {
    VertexIndex vertex;          ///< fine number
    VertexIndex target;          ///< the neighbour it was drawn onto, fine number
    std::uint32_t first_parent;  ///< its ring in `parents`, in order round it
    std::uint32_t parent_count;
  };
  TriMesh coarse;
  std::vector<VertexIndex> kept;  ///< for each coarse vertex its fine number
  std::vector<Removed> removed;
  std::vector<VertexIndex> parents;  ///< fine numbers
  std::vector<double> weights;       ///< of the parents; they repeat linear functions
};

/// Takes out about a fourth of the vertices where the shape of the remaining triangles allows it.
/// Keeps the topology and the corners of the boundary. Deterministic. O(n).
Coarsening coarsen(const TriMesh& fine);

/// Flat positions for the fine surface from those of the coarse one, without flips if the coarse
/// ones have none: a vertex whose mean of its ring would flip a triangle is put close enough to its
/// target, where none can flip. `fine` is what was coarsened.
std::vector<Vec2> refine(const TriMesh& fine, const Coarsening& coarsening,
                         std::span<const Vec2> coarse_flat);

/// Two numbers a vertex: forces on the fine vertices gathered on the coarse ones, and moves of the
/// coarse vertices spread over the fine ones; one is the other's transpose.
Eigen::VectorXd restricted(const Coarsening& step, Eigen::VectorXd fine);
Eigen::VectorXd prolonged(const Coarsening& step, const Eigen::VectorXd& coarse);

/// The positions of the vertices that the coarse surface keeps.
std::vector<Vec2> kept_of(const Coarsening& step, std::span<const Vec2> fine);

}  // namespace film::surface::detail
