#include "surface/denoise.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "surface/detail/topology.h"

namespace film::surface {
namespace {

constexpr int kNormalRounds = 5;
constexpr int kVertexRounds = 20;
/// Share of a vertex's way that it keeps each round: a weak spring home, so that the surface as a
/// whole does not drift.
constexpr double kKept = 0.95;

/// The triangles that share a vertex with each triangle, itself left out.
struct Neighbours {
  std::vector<std::uint32_t> triangles;
  std::vector<std::size_t> start{0};
  [[nodiscard]] std::span<const std::uint32_t> of(std::size_t t) const {
    return std::span(triangles).subspan(start[t], start[t + 1] - start[t]);
  }
};

Neighbours neighbours_of(const TriMesh& mesh, const detail::VertexTriangles& at_vertex) {
  Neighbours result;
  std::vector<std::uint32_t> around;
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
    around.clear();
    for (const VertexIndex v : mesh.triangles[t]) {
      const auto fan = at_vertex.at(v);
      around.insert(around.end(), fan.begin(), fan.end());
    }
    std::sort(around.begin(), around.end());
    around.erase(std::unique(around.begin(), around.end()), around.end());
    std::erase(around, t);
    result.triangles.insert(result.triangles.end(), around.begin(), around.end());
    result.start.push_back(result.triangles.size());
  }
  return result;
}

Vec3 middle_of(const TriMesh& mesh, const Triangle& t) {
  return (mesh.points[t[0]] + mesh.points[t[1]] + mesh.points[t[2]]) / 3.0;
}

struct Facets {
  explicit Facets(const TriMesh& mesh) {
    for (const Triangle& t : mesh.triangles) {
      const Vec3 n = area_vector(mesh, t);
      area.push_back(length(n) / 2);
      normal.push_back(n / length(n));
      middle.push_back(middle_of(mesh, t));
    }
  }
  std::vector<double> area;
  std::vector<Vec3> normal, middle;
};

/// Median difference of normals of neighbours, and mean distance of their middles.
struct Roughness {
  double turn = 0;
  double reach = 0;
};
Roughness roughness_of(const Facets& facets, const Neighbours& neighbours) {
  std::vector<double> turns;
  turns.reserve(neighbours.triangles.size());
  double sum = 0;
  for (std::size_t t = 0; t < facets.area.size(); ++t) {
    for (const std::uint32_t o : neighbours.of(t)) {
      turns.push_back(distance(facets.normal[t], facets.normal[o]));
      sum += distance(facets.middle[t], facets.middle[o]);
    }
  }
  if (turns.empty()) return {};
  const auto half = turns.begin() + static_cast<std::ptrdiff_t>(turns.size() / 2);
  std::nth_element(turns.begin(), half, turns.end());
  return {*half, sum / static_cast<double>(turns.size())};
}

/// Puts the vertices of triangles back that were squashed or turned over, until none is.
void undo_squashed(const TriMesh& before, TriMesh& after) {
  for (bool again = true; again;) {
    again = false;
    for (const Triangle& t : after.triangles) {
      const Vec3 old = area_vector(before, t);
      if (dot(area_vector(after, t), old) > 0.1 * squared_length(old)) continue;
      for (const VertexIndex v : t) {
        again = again || !(after.points[v] == before.points[v]);
        after.points[v] = before.points[v];
      }
    }
  }
}

}  // namespace

TriMesh denoise(const TriMesh& mesh, Mm bound) {
  TriMesh result = mesh;
  const auto at_vertex = detail::triangles_at_vertices(mesh.triangles, mesh.points.size());
  const Neighbours neighbours = neighbours_of(mesh, at_vertex);
  const Facets facets(mesh);
  const Roughness rough = roughness_of(facets, neighbours);
  if (!(rough.turn > 1e-9)) return result;
  // Twice the usual difference is noise; beyond a sixth of a right angle or so it is shape.
  const double same = std::clamp(2 * rough.turn, 1e-6, 0.35);
  std::vector<Vec3> normals = facets.normal;
  std::vector<Vec3> next(normals.size());
  for (int round = 0; round < kNormalRounds; ++round) {
    for (std::size_t t = 0; t < normals.size(); ++t) {
      Vec3 sum = facets.area[t] * normals[t];
      for (const std::uint32_t o : neighbours.of(t)) {
        const double off = distance(facets.middle[t], facets.middle[o]) / rough.reach;
        const double turn = distance(normals[t], normals[o]) / same;
        sum += facets.area[o] * std::exp(-0.5 * (off * off + turn * turn)) * normals[o];
      }
      next[t] = sum / length(sum);
    }
    normals.swap(next);
  }
  // Rounding of coordinates must not carry a vertex past the bound.
  const double greatest = bound.value * (1 - 1e-9);
  for (int round = 0; round < kVertexRounds; ++round) {
    for (VertexIndex v = 0; v < result.points.size(); ++v) {
      const auto fan = at_vertex.at(v);
      if (fan.empty()) continue;
      Vec3 move;
      for (const std::uint32_t t : fan) {
        const Vec3 to_middle = middle_of(result, result.triangles[t]) - result.points[v];
        move += dot(normals[t], to_middle) * normals[t];
      }
      Vec3 off = result.points[v] + move / static_cast<double>(fan.size()) - mesh.points[v];
      off = kKept * off;
      if (length(off) > greatest) off = (greatest / length(off)) * off;
      result.points[v] = mesh.points[v] + off;
    }
  }
  undo_squashed(mesh, result);
  return result;
}

}  // namespace film::surface
