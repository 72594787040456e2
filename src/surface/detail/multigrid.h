#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <vector>

#include <Eigen/SparseCholesky>

#include "surface/detail/block_matrix.h"
#include "surface/detail/hierarchy.h"

namespace film::surface::detail {

/// Solves with the Hessian of a large surface by conjugate gradients, preconditioned with one
/// V-cycle over the coarser levels of the hierarchy. Each level has the Hessian of its own mesh;
/// smoothing is Chebyshev of degree 2 on block Jacobi, whose spectrum ends at 3 for triangles; the
/// coarsest level is factorised. Cost of an iteration: O(n).
/// Source: M. Adams, M. Brezina, J. Hu, R. Tuminaro, "Parallel multigrid smoothing: polynomial
/// versus Gauss-Seidel", J. Comput. Phys. 188, 2003 (the smoother).
class Multigrid {
 public:
  /// `steps[k]` leads from level k to k + 1, level 0 being the surface whose matrix is solved with.
  /// They outlive this.
  explicit Multigrid(std::span<const Coarsening> steps);
  ~Multigrid();

  /// Sets the coarse matrices at the positions that `flat` gives their vertices.
  /// False when the coarsest matrix could not be factorised.
  bool assemble(std::span<const Vec2> flat, const Energy& energy);

  /// x with |A x - b| at most `tolerance` of |b| in the preconditioner's norm, or after 60
  /// iterations; A is `finest`.
  [[nodiscard]] Eigen::VectorXd solve(const BlockMatrix& finest, const Eigen::VectorXd& b,
                                      double tolerance);

 private:
  struct Level;
  void cycle(std::size_t level, const Eigen::VectorXd& b, Eigen::VectorXd& x);

  std::vector<std::unique_ptr<Level>> levels_;  // coarser than the finest
  const BlockMatrix* finest_ = nullptr;
  std::vector<Mat2> finest_inverse_;
  Eigen::SimplicialLDLT<Sparse, Eigen::Lower> direct_;
};

}  // namespace film::surface::detail
