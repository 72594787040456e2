#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include <Eigen/SparseCore>

#include "geometry/trimesh.h"
#include "surface/detail/energy.h"
#include "surface/detail/rest_shape.h"

namespace film::surface::detail {

using Sparse = Eigen::SparseMatrix<double>;

/// Hessian and gradient of a sum of triangle energies by the flat positions (x, y of each vertex in
/// turn). The Hessian is a symmetric matrix of 2x2 blocks, one for each vertex and each edge, of
/// which the lower triangle is kept; its pattern is made once.
class BlockMatrix {
 public:
  BlockMatrix(std::span<const Triangle> triangles, std::span<const RestShape> shapes,
              std::size_t vertex_count);

  /// Sets `values` and `gradient` at `flat`. A trace is added on the diagonal, since rigid motions
  /// cost nothing and would leave the factorisation with 0/0. A flipped triangle (on a coarse level
  /// whose positions come from a finer one) is taken as undistorted.
  void assemble(std::span<const Vec2> flat, const Energy& energy);

  /// Makes the rows and columns of held vertices those of the identity and their gradient zero, so
  /// that a step leaves them where they are.
  void hold(std::span<const char> held);

  /// A x.
  [[nodiscard]] Eigen::VectorXd times(const Eigen::VectorXd& x) const;

  /// A's diagonal block of a vertex.
  [[nodiscard]] Mat2 diagonal(std::size_t vertex) const;
  [[nodiscard]] std::size_t vertex_count() const { return second_column_.size(); }

  Sparse values;
  Eigen::VectorXd gradient;

 private:
  /// Where the blocks of one triangle go among the values: three corners, then three sides.
  struct Slots {
    std::array<int, 3> corner;  // of the corner's diagonal block, in the corner's first column
    std::array<int, 3> first;   // of the side's off-diagonal block, first column
    std::array<int, 3> second;  // ... and second column
  };
  void make_pattern(std::size_t vertex_count);
  void add(std::size_t triangle, const Derivatives& derivatives);

  std::span<const Triangle> triangles_;
  std::span<const RestShape> shapes_;
  std::vector<Slots> slots_;
  std::vector<int> second_column_;  // of each vertex: where its second column starts
};

}  // namespace film::surface::detail
