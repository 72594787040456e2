#include "surface/detail/start.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <numeric>

#include <Eigen/SparseCholesky>

#include "geometry/predicates.h"

namespace film::surface::detail {
namespace {

struct WeightedSide {
  VertexIndex a, b;
  double weight;
};

double cotangent_at(const TriMesh& surface, VertexIndex corner, VertexIndex p, VertexIndex q) {
  const Vec3 a = surface.points[p] - surface.points[corner];
  const Vec3 b = surface.points[q] - surface.points[corner];
  return dot(a, b) / std::max(length(cross(a, b)), 1e-300);
}

enum class Weights { cotangent, equal };

std::vector<WeightedSide> weighted_sides(const TriMesh& surface, std::span<const SideIndex> across,
                                         Weights kind) {
  std::vector<WeightedSide> sides;
  const std::span<const Triangle> triangles = surface.triangles;
  for (SideIndex s = 0; s < across.size(); ++s) {
    const SideIndex o = across[s];
    if (o != kNoSide && o < s) continue;
    const VertexIndex a = start_of(triangles, s);
    const VertexIndex b = end_of(triangles, s);
    double weight = 1;
    if (kind == Weights::cotangent) {
      weight = cotangent_at(surface, end_of(triangles, next_side(s)), a, b);
      if (o != kNoSide) weight += cotangent_at(surface, end_of(triangles, next_side(o)), a, b);
      weight = std::clamp(weight / 2, 0.05, 20.0);
    }
    sides.push_back({a, b, weight});
  }
  return sides;
}

void place_on_circle(const TriMesh& surface, const std::vector<VertexIndex>& loop, double radius,
                     std::vector<Vec2>& flat) {
  std::vector<double> along(loop.size() + 1, 0);
  for (std::size_t i = 0; i < loop.size(); ++i) {
    along[i + 1] =
        along[i] + distance(surface.points[loop[i]], surface.points[loop[(i + 1) % loop.size()]]);
  }
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const double angle = 2 * std::numbers::pi * along[i] / along.back();
    flat[loop[i]] = {radius * std::cos(angle), radius * std::sin(angle)};
  }
}

std::vector<Vec2> spread_inside(const TriMesh& surface, std::span<const WeightedSide> sides,
                                std::span<const VertexIndex> rim, std::size_t vertex_count,
                                double radius, const std::vector<VertexIndex>& rim_loop) {
  std::vector<Vec2> flat(vertex_count);
  place_on_circle(surface, rim_loop, radius, flat);
  std::vector<Eigen::Index> unknown(vertex_count, 0);
  for (const VertexIndex v : rim) unknown[v] = -1;
  Eigen::Index count = 0;
  for (Eigen::Index& u : unknown) {
    if (u == 0) u = count++;
  }
  if (count == 0) return flat;
  std::vector<Eigen::Triplet<double>> entries;
  Eigen::MatrixX2d right = Eigen::MatrixX2d::Zero(count, 2);
  const auto tie = [&](VertexIndex from, VertexIndex to, double weight) {
    const Eigen::Index i = unknown[from];
    if (i < 0) return;
    entries.emplace_back(i, i, weight);
    if (unknown[to] < 0) {
      right(i, 0) += weight * flat[to].x;
      right(i, 1) += weight * flat[to].y;
    } else {
      entries.emplace_back(i, unknown[to], -weight);
    }
  };
  for (const WeightedSide& s : sides) {
    tie(s.a, s.b, s.weight);
    tie(s.b, s.a, s.weight);
  }
  Eigen::SparseMatrix<double> matrix(count, count);
  matrix.setFromTriplets(entries.begin(), entries.end());
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(matrix);
  const Eigen::MatrixX2d inner = solver.solve(right);
  for (std::size_t v = 0; v < vertex_count; ++v) {
    if (unknown[v] >= 0) flat[v] = {inner(unknown[v], 0), inner(unknown[v], 1)};
  }
  return flat;
}

}  // namespace

std::size_t count_flips(std::span<const Triangle> triangles, std::span<const Vec2> flat) {
  return static_cast<std::size_t>(std::count_if(
      triangles.begin(), triangles.end(),
      [&](const Triangle& t) { return orientation(flat[t[0]], flat[t[1]], flat[t[2]]) <= 0; }));
}

std::optional<std::vector<Vec2>> flip_free_start(const TriMesh& surface,
                                                 std::span<const SideIndex> across) {
  auto loops = loops_of(surface.triangles, across);
  std::size_t rim = 0;
  double longest = 0;
  for (std::size_t i = 0; i < loops.size(); ++i) {
    double sum = 0;
    for (std::size_t k = 0; k < loops[i].size(); ++k) {
      sum += distance(surface.points[loops[i][k]],
                      surface.points[loops[i][(k + 1) % loops[i].size()]]);
    }
    if (sum > longest) {
      longest = sum;
      rim = i;
    }
  }
  const double radius = std::sqrt(surface_area(surface) / std::numbers::pi);
  for (const Weights kind : {Weights::cotangent, Weights::equal}) {
    std::vector<WeightedSide> sides = weighted_sides(surface, across, kind);
    std::size_t vertex_count = surface.points.size();
    for (std::size_t i = 0; i < loops.size(); ++i) {
      if (i == rim) continue;
      for (const VertexIndex v : loops[i]) {
        sides.push_back({v, static_cast<VertexIndex>(vertex_count), 1});
      }
      ++vertex_count;
    }
    std::vector<Vec2> flat =
        spread_inside(surface, sides, loops[rim], vertex_count, radius, loops[rim]);
    flat.resize(surface.points.size());
    if (count_flips(surface.triangles, flat) == 0) return flat;
  }
  return std::nullopt;
}

}  // namespace film::surface::detail
