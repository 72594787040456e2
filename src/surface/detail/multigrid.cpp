#include "surface/detail/multigrid.h"

#include <algorithm>
#include <utility>

#include <Eigen/LU>

namespace film::surface::detail {
namespace {

/// Levels of the cycle are so many coarsening steps apart: about a third of the vertices each.
constexpr std::size_t kStride = 4;
/// A level with fewer vertices than this is the last and factorised.
constexpr std::size_t kDirect = 1800;
constexpr int kGreatestIterations = 60;

std::vector<Mat2> inverse_diagonal(const BlockMatrix& matrix) {
  std::vector<Mat2> inverse;
  inverse.reserve(matrix.vertex_count());
  for (std::size_t v = 0; v < matrix.vertex_count(); ++v) {
    inverse.emplace_back(matrix.diagonal(v).inverse());
  }
  return inverse;
}

/// x += q(D^-1 A) D^-1 (b - A x), q the Chebyshev polynomial of degree 1 for the upper part of the
/// spectrum. `residual` is b - A x before.
void smooth(const BlockMatrix& matrix, std::span<const Mat2> inverse, Eigen::VectorXd residual,
            Eigen::VectorXd& x) {
  constexpr double kHigh = 3.0;
  constexpr double kLow = 0.4;
  constexpr double kMiddle = (kHigh + kLow) / 2;
  constexpr double kHalf = (kHigh - kLow) / 2;
  const auto scaled = [&inverse](const Eigen::VectorXd& r, double factor) {
    Eigen::VectorXd result(r.size());
    for (std::size_t v = 0; v < inverse.size(); ++v) {
      const auto i = 2 * static_cast<Eigen::Index>(v);
      result.segment<2>(i) = factor * (inverse[v] * r.segment<2>(i));
    }
    return result;
  };
  Eigen::VectorXd move = scaled(residual, 1 / kMiddle);
  x += move;
  const double rho = kHalf / kMiddle;
  const double next = 1 / (2 / rho - rho);
  residual -= matrix.times(move);
  x += next * rho * move + scaled(residual, 2 * next / kHalf);
}

}  // namespace

struct Multigrid::Level {
  Level(std::span<const Coarsening> from_finer)
      : steps(from_finer),
        mesh(from_finer.back().coarse),
        shapes(rest_shapes(mesh)),
        matrix(mesh.triangles, shapes, mesh.points.size()) {}

  std::span<const Coarsening> steps;  // from the next finer level of the cycle to this one
  const TriMesh& mesh;
  std::vector<RestShape> shapes;
  BlockMatrix matrix;
  std::vector<Mat2> inverse;
};

Multigrid::~Multigrid() = default;

Multigrid::Multigrid(std::span<const Coarsening> steps) {
  for (std::size_t at = 0; at < steps.size();) {
    std::size_t count = std::min(kStride, steps.size() - at);
    levels_.push_back(std::make_unique<Level>(steps.subspan(at, count)));
    at += count;
    if (levels_.back()->mesh.points.size() < kDirect) break;
  }
  direct_.analyzePattern(levels_.back()->matrix.values);
}

bool Multigrid::assemble(std::span<const Vec2> flat, const Energy& energy) {
  std::vector<Vec2> at(flat.begin(), flat.end());
  for (auto& level : levels_) {
    for (const Coarsening& step : level->steps) {
      at = kept_of(step, at);
    }
    level->matrix.assemble(at, energy);
    level->inverse = inverse_diagonal(level->matrix);
  }
  direct_.factorize(levels_.back()->matrix.values);
  return direct_.info() == Eigen::Success;
}

void Multigrid::cycle(std::size_t level, const Eigen::VectorXd& b, Eigen::VectorXd& x) {
  if (level == levels_.size()) {
    x = direct_.solve(b);
    return;
  }
  const BlockMatrix& matrix = level == 0 ? *finest_ : levels_[level - 1]->matrix;
  const std::span<const Mat2> inverse = level == 0 ? finest_inverse_ : levels_[level - 1]->inverse;
  x.setZero(b.size());
  smooth(matrix, inverse, b, x);
  Eigen::VectorXd rest = b - matrix.times(x);
  const auto steps = levels_[level]->steps;
  for (const Coarsening& step : steps) rest = restricted(step, std::move(rest));
  Eigen::VectorXd correction;
  cycle(level + 1, rest, correction);
  for (std::size_t i = steps.size(); i-- > 0;) correction = prolonged(steps[i], correction);
  x += correction;
  smooth(matrix, inverse, b - matrix.times(x), x);
}

Eigen::VectorXd Multigrid::solve(const BlockMatrix& finest, const Eigen::VectorXd& b,
                                 double tolerance) {
  finest_ = &finest;
  finest_inverse_ = inverse_diagonal(finest);
  Eigen::VectorXd x = Eigen::VectorXd::Zero(b.size());
  Eigen::VectorXd r = b;
  Eigen::VectorXd z;
  cycle(0, r, z);
  Eigen::VectorXd p = z;
  double rz = r.dot(z);
  const double goal = tolerance * tolerance * rz;
  for (int i = 0; i < kGreatestIterations && rz > 0; ++i) {
    const Eigen::VectorXd ap = finest_->times(p);
    const double alpha = rz / p.dot(ap);
    x += alpha * p;
    // What was reckoned to see that the goal is met has been a step towards it as well.
    if (!(rz > goal)) break;
    r -= alpha * ap;
    cycle(0, r, z);
    const double next = r.dot(z);
    p = z + (next / rz) * p;
    rz = next;
  }
  return x;
}

}  // namespace film::surface::detail
