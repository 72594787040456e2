#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include <Eigen/Dense>
#include <Eigen/Sparse>

#include "geometry/trimesh.h"
#include "geometry/vec.h"

/// The least ratio of greatest to least stretch, by another road than surface/flatten.h takes: an
/// interior-point method on `least a - b, with b <= ln s2 and ln s1 <= a in every triangle`, whose
/// end is a stationary point up to a known gap. Nothing here is shared with the kernel.
/// Source: barrier method of S. Boyd, L. Vandenberghe, "Convex Optimization", 2004, ch. 11.
namespace film::test {

class LeastRatio {
 public:
  LeastRatio(const TriMesh& surface, std::vector<Vec2> start)
      : triangles_(surface.triangles), flat_(std::move(start)) {
    for (const Triangle& t : triangles_) {
      const Vec3 e1 = surface.points[t[1]] - surface.points[t[0]];
      const Vec3 e2 = surface.points[t[2]] - surface.points[t[0]];
      const double x1 = length(e1);
      const double x2 = dot(e1, e2) / x1;
      const double y2 = length(cross(e1, e2)) / x1;
      Eigen::Matrix<double, 2, 3> g;  // column k: gradient of corner k's hat function
      g.col(1) << 1 / x1, -x2 / (x1 * y2);
      g.col(2) << 0, 1 / y2;
      g.col(0) = -g.col(1) - g.col(2);
      gradients_.push_back(g);
    }
  }

  struct Outcome {
    double log_ratio = 0;  ///< reached, by the flat shape
    /// Every flat shape whose triangles are turned by less than `turn` against this one has a log
    /// ratio of at least log_ratio - gap + ln cos(turn).
    double gap = 0;
  };

  /// Ends with a gap of at most `gap`.
  Outcome run(double gap) {
    const auto count = 2.0 * static_cast<double>(triangles_.size());
    const auto [low, high] = range(flat_);
    a_ = high + 0.05 * (high - low);
    b_ = low - 0.05 * (high - low);
    double mu = (high - low) / 50 / std::sqrt(count);
    while (true) {
      for (int step = 0; step < 60 && centre(mu) > 0.5; ++step) {
      }
      if (count * mu <= gap) break;
      mu /= 4;
    }
    const auto [least, greatest] = range(flat_);
    return {greatest - least, (greatest - least) - (a_ - b_) + count * mu};
  }

 private:
  struct Map {
    Eigen::Matrix2d u, v;
    double s1, s2;
  };

  [[nodiscard]] Eigen::Matrix2d jacobian(std::size_t t, const std::vector<Vec2>& flat) const {
    Eigen::Matrix2d j = Eigen::Matrix2d::Zero();
    for (int k = 0; k < 3; ++k) {
      const Vec2 p = flat[triangles_[t][static_cast<std::size_t>(k)]];
      j += Eigen::Vector2d(p.x, p.y) * gradients_[t].col(k).transpose();
    }
    return j;
  }

  [[nodiscard]] Map map(std::size_t t, const std::vector<Vec2>& flat) const {
    const Eigen::Matrix2d j = jacobian(t, flat);
    if (!(j.determinant() > 0)) return {{}, {}, std::numeric_limits<double>::infinity(), 0};
    const Eigen::JacobiSVD<Eigen::Matrix2d> svd(j, Eigen::ComputeFullU | Eigen::ComputeFullV);
    return {svd.matrixU(), svd.matrixV(), svd.singularValues()[0], svd.singularValues()[1]};
  }

  [[nodiscard]] std::pair<double, double> range(const std::vector<Vec2>& flat) const {
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
      const Map m = map(t, flat);
      low = std::min(low, std::log(m.s2));
      high = std::max(high, std::log(m.s1));
    }
    return {low, high};
  }

  [[nodiscard]] double barrier(const std::vector<Vec2>& flat, double a, double b, double mu) const {
    double sum = (a - b) / mu;
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
      const Map m = map(t, flat);
      const double over = a - std::log(m.s1);
      const double under = std::log(m.s2) - b;
      if (!(over > 0 && under > 0)) return std::numeric_limits<double>::infinity();
      sum -= std::log(over) + std::log(under);
    }
    return sum;
  }

  /// One Newton step on the barrier function; returns the gain it was expected to bring, twice.
  double centre(double mu) {
    const auto n = 2 * static_cast<Eigen::Index>(flat_.size());
    std::vector<Eigen::Triplet<double>> entries;
    entries.reserve(triangles_.size() * 21 + flat_.size() * 2);
    // Right-hand sides: the gradient by the positions, and its derivatives by a and by b.
    Eigen::MatrixX3d sides = Eigen::MatrixX3d::Zero(n, 3);
    Eigen::Vector2d slope(1 / mu, -1 / mu);
    Eigen::Vector2d curve = Eigen::Vector2d::Zero();
    double trace = 0;
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
      const Map m = map(t, flat_);
      const double over = a_ - std::log(m.s1);
      const double under = std::log(m.s2) - b_;
      slope += Eigen::Vector2d(-1 / over, 1 / under);
      curve += Eigen::Vector2d(1 / (over * over), 1 / (under * under));
      const double d1 = 1 / (over * m.s1);
      const double d2 = -1 / (under * m.s2);
      const auto turned = [&m](double p, double q, double r, double s) {
        Eigen::Matrix2d inner;
        inner << p, q, r, s;
        return Eigen::Matrix2d(m.u * inner * m.v.transpose());
      };
      const std::array<Eigen::Matrix2d, 3> forces{turned(d1, 0, 0, d2), turned(-d1 / over, 0, 0, 0),
                                                  turned(0, 0, 0, d2 / under)};
      Eigen::Matrix4d h = Eigen::Matrix4d::Zero();
      const auto stiffen = [&h](double weight, const Eigen::Matrix2d& way) {
        const Eigen::Map<const Eigen::Vector4d> w(way.data());
        if (weight > 0) h += weight * w * w.transpose();
      };
      stiffen(d1 * d1, turned(1, 0, 0, 0));
      stiffen(d2 * d2 * (1 + under), turned(0, 0, 0, 1));
      stiffen((d1 + d2) / (m.s1 + m.s2) / 2, turned(0, -1, 1, 0));
      stiffen((d1 - d2) / std::max(m.s1 - m.s2, 1e-9) / 2, turned(0, 1, 1, 0));
      const auto& g = gradients_[t];
      for (int k = 0; k < 3; ++k) {
        const auto row = 2 * static_cast<Eigen::Index>(triangles_[t][static_cast<std::size_t>(k)]);
        for (Eigen::Index f = 0; f < 3; ++f) {
          sides.block<2, 1>(row, f) += forces[static_cast<std::size_t>(f)] * g.col(k);
        }
        for (int l = 0; l < 3; ++l) {
          const auto column =
              2 * static_cast<Eigen::Index>(triangles_[t][static_cast<std::size_t>(l)]);
          for (Eigen::Index i = 0; i < 2; ++i) {
            for (Eigen::Index j = 0; j < 2; ++j) {
              if (row + i < column + j) continue;
              double value = 0;
              for (Eigen::Index p = 0; p < 2; ++p) {
                for (Eigen::Index q = 0; q < 2; ++q) {
                  value += h(i + 2 * p, j + 2 * q) * g(p, k) * g(q, l);
                }
              }
              entries.emplace_back(row + i, column + j, value);
              if (row + i == column + j) trace += value;
            }
          }
        }
      }
    }
    for (Eigen::Index i = 0; i < n; ++i) {
      entries.emplace_back(i, i, 1e-13 * trace / static_cast<double>(n));
    }
    Eigen::SparseMatrix<double> matrix(n, n);
    matrix.setFromTriplets(entries.begin(), entries.end());
    if (!ordered_) solver_.analyzePattern(matrix);
    ordered_ = true;
    solver_.factorize(matrix);
    const Eigen::MatrixX3d solved = solver_.solve(sides);
    // a and b are eliminated last. A common factor on the whole shape changes nothing, hence the
    // small share on the diagonal.
    Eigen::Matrix2d rest = curve.asDiagonal();
    rest -= sides.rightCols<2>().transpose() * solved.rightCols<2>();
    rest += 1e-9 * rest.trace() * Eigen::Matrix2d::Identity();
    const Eigen::Vector2d ends =
        -rest.ldlt().solve(slope - sides.rightCols<2>().transpose() * solved.col(0));
    const Eigen::VectorXd move = -solved.col(0) - solved.rightCols<2>() * ends;
    const double expected = -(sides.col(0).dot(move) + slope.dot(ends));
    const double now = barrier(flat_, a_, b_, mu);
    std::vector<Vec2> trial(flat_.size());
    for (double step = 1; step > 1e-12; step /= 2) {
      for (std::size_t v = 0; v < flat_.size(); ++v) {
        const auto i = 2 * static_cast<Eigen::Index>(v);
        trial[v] = flat_[v] + step * Vec2{move[i], move[i + 1]};
      }
      const double then = barrier(trial, a_ + step * ends[0], b_ + step * ends[1], mu);
      if (then > now - 1e-4 * step * expected + 1e-12 * std::abs(now)) continue;
      flat_.swap(trial);
      a_ += step * ends[0];
      b_ += step * ends[1];
      return expected;
    }
    return 0;
  }

  std::vector<Triangle> triangles_;
  std::vector<Eigen::Matrix<double, 2, 3>> gradients_;
  std::vector<Vec2> flat_;
  double a_ = 0;
  double b_ = 0;
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>, Eigen::Lower> solver_;
  bool ordered_ = false;
};

}  // namespace film::test
