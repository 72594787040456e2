#include "geometry/trimesh.h"

#include <algorithm>
#include <cstddef>
#include <unordered_map>
#include <unordered_set>

namespace film {
namespace {

std::uint64_t key_of(VertexIndex from, VertexIndex to) {
  return (static_cast<std::uint64_t>(from) << 32) | to;
}

double loop_length(const TriMesh& mesh, const std::vector<VertexIndex>& loop) {
  double sum = 0;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    sum += distance(mesh.points[loop[i]], mesh.points[loop[(i + 1) % loop.size()]]);
  }
  return sum;
}

}  // namespace

double surface_area(const TriMesh& mesh) {
  double twice = 0;
  for (const Triangle& t : mesh.triangles) twice += length(area_vector(mesh, t));
  return twice / 2;
}

std::vector<std::vector<VertexIndex>> boundary_loops(const TriMesh& mesh) {
  std::unordered_set<std::uint64_t> directed;
  directed.reserve(mesh.triangles.size() * 3);
  for (const Triangle& t : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) directed.insert(key_of(t[k], t[(k + 1) % 3]));
  }
  std::unordered_map<VertexIndex, VertexIndex> next;
  std::vector<VertexIndex> starts;
  for (const Triangle& t : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      const VertexIndex from = t[k];
      const VertexIndex to = t[(k + 1) % 3];
      if (directed.contains(key_of(to, from))) continue;
      if (next.emplace(from, to).second) starts.push_back(from);
    }
  }
  std::vector<std::vector<VertexIndex>> loops;
  std::unordered_set<VertexIndex> used;
  for (const VertexIndex start : starts) {
    std::vector<VertexIndex> loop;
    for (VertexIndex at = start; used.insert(at).second;) {
      loop.push_back(at);
      const auto step = next.find(at);
      if (step == next.end()) break;
      at = step->second;
    }
    if (loop.size() >= 3) loops.push_back(std::move(loop));
  }
  std::stable_sort(loops.begin(), loops.end(), [&mesh](const auto& a, const auto& b) {
    return loop_length(mesh, a) > loop_length(mesh, b);
  });
  return loops;
}

}  // namespace film
