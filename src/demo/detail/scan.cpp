#include "demo/detail/scan.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <vector>

namespace film::demo {
namespace {

/// A normally distributed number. Source: G. E. P. Box, M. E. Muller, "A note on the generation of
/// random normal deviates", Ann. Math. Statist. 29(2), 1958.
double normal_deviate(Rng& rng) {
  const double radius = std::sqrt(-2 * std::log(1 - rng.uniform()));
  return radius * std::cos(2 * std::numbers::pi * rng.uniform());
}

Vec3 unit(Vec3 v) { return v / std::max(length(v), 1e-12); }

using Edge = std::pair<VertexIndex, VertexIndex>;

Edge edge_of(VertexIndex a, VertexIndex b) { return {std::min(a, b), std::max(a, b)}; }

/// The triangles at each edge.
std::map<Edge, std::vector<std::size_t>> edges_of(const TriMesh& mesh) {
  std::map<Edge, std::vector<std::size_t>> edges;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (std::size_t k = 0; k < 3; ++k) {
      edges[edge_of(mesh.triangles[t][k], mesh.triangles[t][(k + 1) % 3])].push_back(t);
    }
  }
  return edges;
}

VertexIndex apex(const Triangle& t, const Edge& edge) {
  return t[0] != edge.first && t[0] != edge.second   ? t[0]
         : t[1] != edge.first && t[1] != edge.second ? t[1]
                                                     : t[2];
}

/// Neither folded against `normal` nor a sliver.
bool is_sound(const TriMesh& mesh, const Triangle& t, Vec3 normal) {
  const Vec3 across = area_vector(mesh, t);
  double longest = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    longest = std::max(longest, squared_length(mesh.points[t[(k + 1) % 3]] - mesh.points[t[k]]));
  }
  return dot(across, normal) > 0.7 * length(across) && length(across) > 0.1 * longest;
}

void turn_edges(TriMesh& mesh, double share, Rng& rng) {
  auto edges = edges_of(mesh);
  std::vector<Edge> inner;
  for (const auto& [edge, triangles] : edges) {
    if (triangles.size() == 2) inner.push_back(edge);
  }
  for (const Edge& edge : inner) {
    if (rng.uniform() >= share) continue;
    const auto at = edges.find(edge);
    if (at == edges.end() || at->second.size() != 2) continue;
    const std::size_t t = at->second[0], u = at->second[1];
    const VertexIndex a = apex(mesh.triangles[t], edge), d = apex(mesh.triangles[u], edge);
    if (edges.count(edge_of(a, d)) != 0) continue;
    // The corners of t in order from a.
    Triangle& first = mesh.triangles[t];
    while (first[0] != a) std::rotate(first.begin(), first.begin() + 1, first.end());
    const VertexIndex b = first[1], c = first[2];
    const Vec3 normal = unit(unit(area_vector(mesh, mesh.triangles[t])) +
                             unit(area_vector(mesh, mesh.triangles[u])));
    const Triangle left{a, b, d}, right{a, d, c};
    if (!is_sound(mesh, left, normal) || !is_sound(mesh, right, normal)) continue;
    mesh.triangles[t] = left;
    mesh.triangles[u] = right;
    edges.erase(at);
    edges[edge_of(a, d)] = {t, u};
    std::replace(edges[edge_of(b, d)].begin(), edges[edge_of(b, d)].end(), u, t);
    std::replace(edges[edge_of(a, c)].begin(), edges[edge_of(a, c)].end(), t, u);
  }
}

void shift(TriMesh& mesh, const Scan& scan, Rng& rng) {
  std::vector<std::vector<std::size_t>> round(mesh.points.size());
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (VertexIndex v : mesh.triangles[t]) round[v].push_back(t);
  }
  std::vector<bool> rim(mesh.points.size(), false);
  for (const auto& [edge, triangles] : edges_of(mesh)) {
    if (triangles.size() == 1) rim[edge.first] = rim[edge.second] = true;
  }
  for (VertexIndex v = 0; v < mesh.points.size(); ++v) {
    std::vector<Vec3> normals;
    Vec3 normal;
    for (std::size_t t : round[v]) {
      normals.push_back(unit(area_vector(mesh, mesh.triangles[t])));
      normal += normals.back();
    }
    const Triangle& towards = mesh.triangles[round[v][rng.below(round[v].size())]];
    const double u = scan.jitter * rng.uniform(), w = scan.jitter * rng.uniform();
    const double off = scan.noise.value * normal_deviate(rng);
    const Vec3 before = mesh.points[v];
    Vec3 after = before + off * unit(normal);
    if (!rim[v]) {
      for (VertexIndex other : towards)
        after += (other == towards[0] ? u : w) * (mesh.points[other] - before);
    }
    mesh.points[v] = after;
    for (std::size_t i = 0; i < round[v].size(); ++i) {
      if (!is_sound(mesh, mesh.triangles[round[v][i]], normals[i])) mesh.points[v] = before;
    }
  }
}

}  // namespace

void roughen(TriMesh& mesh, const Scan& scan, Rng& rng) {
  turn_edges(mesh, scan.irregular, rng);
  shift(mesh, scan, rng);
  rng.shuffle(mesh.triangles);
}

}  // namespace film::demo
