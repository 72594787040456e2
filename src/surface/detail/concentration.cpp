#include "surface/detail/concentration.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <Eigen/SparseCholesky>

#include "surface/detail/topology.h"

namespace film::surface::detail {
namespace {

constexpr double kSpread = 0.1;  // of the square root of the area
/// A peak lower than this share of the highest one is not worth a line of its own.
constexpr double kLeastPeak = 0.2;

}  // namespace

std::vector<VertexIndex> curvature_peaks(const TriMesh& surface, std::size_t count) {
  const std::size_t n = surface.points.size();
  const auto across = sides_across(surface.triangles, n);
  std::vector<char> on_boundary(n, 0);
  for (SideIndex s = 0; s < across.size(); ++s) {
    if (across[s] != kNoSide) continue;
    on_boundary[start_of(surface.triangles, s)] = on_boundary[end_of(surface.triangles, s)] = 1;
  }
  // (L + M / spread^2) c = K, by linear elements; rows of the boundary are those of the identity.
  const double spread = kSpread * std::sqrt(surface_area(surface));
  Eigen::VectorXd defect =
      Eigen::VectorXd::Constant(static_cast<Eigen::Index>(n), 2 * std::numbers::pi);
  std::vector<Eigen::Triplet<double>> entries;
  entries.reserve(9 * surface.triangles.size() + n);
  const auto add = [&](VertexIndex a, VertexIndex b, double value) {
    if (!on_boundary[a] && !on_boundary[b]) {
      entries.emplace_back(static_cast<int>(a), static_cast<int>(b), value);
    }
  };
  for (const Triangle& t : surface.triangles) {
    const double area = length(area_vector(surface, t)) / 2;
    for (std::size_t k = 0; k < 3; ++k) {
      const VertexIndex a = t[(k + 1) % 3];
      const VertexIndex b = t[(k + 2) % 3];
      const Vec3 u = surface.points[a] - surface.points[t[k]];
      const Vec3 v = surface.points[b] - surface.points[t[k]];
      defect[static_cast<Eigen::Index>(t[k])] -= std::atan2(length(cross(u, v)), dot(u, v));
      // Held at zero or above, so that peaks of c are where K has them.
      const double weight = std::max(dot(u, v) / (4 * area), 0.0);
      add(a, a, weight);
      add(b, b, weight);
      add(a, b, -weight);
      add(b, a, -weight);
      add(t[k], t[k], area / (3 * spread * spread));
    }
  }
  for (std::size_t v = 0; v < n; ++v) {
    if (!on_boundary[v]) continue;
    entries.emplace_back(static_cast<int>(v), static_cast<int>(v), 1.0);
    defect[static_cast<Eigen::Index>(v)] = 0;
  }
  Eigen::SparseMatrix<double> matrix(static_cast<Eigen::Index>(n), static_cast<Eigen::Index>(n));
  matrix.setFromTriplets(entries.begin(), entries.end());
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(matrix);
  if (solver.info() != Eigen::Success) return {};
  const Eigen::VectorXd gathered = solver.solve(defect);
  const auto value = [&](VertexIndex v) { return gathered[static_cast<Eigen::Index>(v)]; };

  std::vector<char> is_peak(n, 1);
  for (const Triangle& t : surface.triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      const VertexIndex a = t[k];
      const VertexIndex b = t[(k + 1) % 3];
      is_peak[value(a) < value(b) || (value(a) == value(b) && b < a) ? a : b] = 0;
    }
  }
  std::vector<VertexIndex> peaks;
  for (VertexIndex v = 0; v < n; ++v) {
    if (is_peak[v] && !on_boundary[v] && value(v) > 0) peaks.push_back(v);
  }
  std::sort(peaks.begin(), peaks.end(), [&](VertexIndex a, VertexIndex b) {
    return value(a) != value(b) ? value(a) > value(b) : a < b;
  });
  if (peaks.size() > count) peaks.resize(count);
  while (!peaks.empty() && value(peaks.back()) < kLeastPeak * value(peaks.front())) {
    peaks.pop_back();
  }
  return peaks;
}

}  // namespace film::surface::detail
