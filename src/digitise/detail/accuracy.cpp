#include "digitise/detail/accuracy.h"

#include <algorithm>
#include <cmath>

namespace film::digitise::detail {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// What a shift of all parameters does to the points, seen where they are seen: x then y of each.
VectorXd shift(const Scene& scene, const Scene& other, const std::vector<Vec2>& points,
               double height, double other_height) {
  VectorXd moves(2 * static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 off =
        other.camera.seen(points[i], other_height) - scene.camera.seen(points[i], height);
    const Eigen::Vector2d move =
        -slope(scene.camera, points[i], height).inverse() * Eigen::Vector2d(off.x, off.y);
    moves.segment<2>(2 * static_cast<Eigen::Index>(i)) = move;
  }
  return moves;
}

/// Columns that a rigid motion of the points spans, made orthonormal.
MatrixXd rigid_motions(const std::vector<Vec2>& points) {
  MatrixXd basis(2 * static_cast<Eigen::Index>(points.size()), 3);
  Vec2 middle;
  for (const Vec2 p : points) middle += p / static_cast<double>(points.size());
  for (std::size_t i = 0; i < points.size(); ++i) {
    const auto r = 2 * static_cast<Eigen::Index>(i);
    const Vec2 turn = left_of(points[i] - middle);
    basis.row(r) << 1, 0, turn.x;
    basis.row(r + 1) << 0, 1, turn.y;
  }
  for (Eigen::Index k = 0; k < 3; ++k) basis.col(k).normalize();
  return basis;
}

/// 95th percentile over the points of the larger half-axis of their uncertainty, given the square
/// root of the covariance of the parameters.
double largest(const MatrixXd& moves, const MatrixXd& covariance) {
  std::vector<double> sizes;
  for (Eigen::Index r = 0; r + 1 < moves.rows(); r += 2) {
    const MatrixXd d = moves.middleRows(r, 2);
    const Eigen::Matrix2d c = d * covariance * d.transpose();
    const double half = 0.5 * c.trace();
    const double root = std::sqrt(std::max(0.0, half * half - c.determinant()));
    sizes.push_back(std::sqrt(std::max(0.0, half + root)));
  }
  if (sizes.empty()) return 0;
  const auto at =
      sizes.begin() + static_cast<std::ptrdiff_t>(0.95 * static_cast<double>(sizes.size() - 1));
  std::nth_element(sizes.begin(), at, sizes.end());
  return *at;
}

}  // namespace

Spread spread_of(const Adjusted& fit, const std::vector<Vec2>& points, double height) {
  const int count = parameter_count(fit.scene);
  MatrixXd moves(2 * static_cast<Eigen::Index>(points.size()), count);
  for (int k = 0; k < count; ++k) {
    const double step = small_step(fit.scene, k);
    moves.col(k) = (shift(fit.scene, changed(fit.scene, k, step), points, height, height) / step);
  }
  const MatrixXd rigid = rigid_motions(points);
  const auto free_of_motion = [&rigid](const MatrixXd& m) -> MatrixXd {
    return m - rigid * (rigid.transpose() * m);
  };
  moves = free_of_motion(moves);

  // Parts the covariance into what the print scale brings and what is left when it is known.
  const MatrixXd& all = fit.covariance;
  std::vector<Eigen::Index> scales;
  for (int k = 0; k < count; ++k) {
    if (is_scale(k)) scales.push_back(k);
  }
  const MatrixXd cross = all(Eigen::all, scales);
  const MatrixXd own = all(scales, scales);
  const MatrixXd by_scale = cross * own.ldlt().solve(MatrixXd(cross.transpose()));

  Spread spread;
  spread.camera = largest(moves, all - by_scale);
  spread.scale = largest(moves, by_scale);
  const MatrixXd lift = free_of_motion(shift(fit.scene, fit.scene, points, height, height + 1));
  spread.height = largest(lift, MatrixXd::Identity(1, 1));
  return spread;
}

}  // namespace film::digitise::detail
