#include "formats/gltf.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <limits>

#include <nlohmann/json.hpp>

#include "base/text.h"

namespace film::formats {
namespace {

static_assert(std::endian::native == std::endian::little, "GLB is little-endian");

using nlohmann::json;

constexpr std::size_t kGreatestFile = std::numeric_limits<std::uint32_t>::max();

/// glTF's numbers for the kinds of things in a buffer.
enum : int { kFloat = 5126, kUnsigned = 5125, kVertices = 34962, kIndices = 34963 };

template <class T>
void append(std::string& bytes, T value) {
  char raw[sizeof(T)];
  std::memcpy(raw, &value, sizeof(T));
  bytes.append(raw, sizeof(T));
}

Vec3 to_gltf(Vec3 p) { return {p.y, p.z, p.x}; }

/// Normals of the vertices: those of the triangles round each, weighted by their angle there.
std::vector<Vec3> averaged_normals(const TriMesh& mesh) {
  std::vector<Vec3> normals(mesh.points.size());
  for (const Triangle& t : mesh.triangles) {
    const Vec3 across = area_vector(mesh, t);
    const double size = length(across);
    if (size == 0) continue;
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3 a = mesh.points[t[k]];
      const Vec3 u = mesh.points[t[(k + 1) % 3]] - a, v = mesh.points[t[(k + 2) % 3]] - a;
      normals[t[k]] += (std::atan2(length(cross(u, v)), dot(u, v)) / size) * across;
    }
  }
  for (Vec3& n : normals) {
    const double size = length(n);
    n = size > 0 ? n / size : Vec3{0, 0, 1};
  }
  return normals;
}

/// For each vertex the vertices that share a triangle with it, without repeats.
std::vector<std::vector<VertexIndex>> neighbours(const TriMesh& mesh) {
  std::vector<std::vector<VertexIndex>> round(mesh.points.size());
  for (const Triangle& t : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      round[t[k]].insert(round[t[k]].end(), {t[(k + 1) % 3], t[(k + 2) % 3]});
    }
  }
  for (auto& list : round) {
    std::sort(list.begin(), list.end());
    list.erase(std::unique(list.begin(), list.end()), list.end());
  }
  return round;
}

/// Solves a symmetric positive 5 x 5 system in place by elimination; false if it is near singular.
bool solve(std::array<std::array<double, 6>, 5>& m) {
  for (std::size_t i = 0; i < 5; ++i) {
    if (m[i][i] < 1e-9) return false;
    for (std::size_t r = 0; r < 5; ++r) {
      if (r == i) continue;
      const double k = m[r][i] / m[i][i];
      for (std::size_t c = i; c < 6; ++c) m[r][c] -= k * m[i][c];
    }
  }
  return true;
}

/// The normal of the quadric through vertex v that fits the vertices near it best. Averages of
/// triangle normals lean with the triangles' shapes, which shows in reflections as ripples; a
/// fitted quadric does not, and it is as good at the rim as inside.
Vec3 fitted_normal(const TriMesh& mesh, const std::vector<Vec3>& rough,
                   const std::vector<std::vector<VertexIndex>>& round, VertexIndex v,
                   std::vector<VertexIndex>& near) {
  constexpr double kSmooth = 0.5;  // cosine: neighbours past an edge of the shape are left out
  near.assign(round[v].begin(), round[v].end());
  double reach = 0;
  for (VertexIndex a : near) reach = std::max(reach, distance(mesh.points[v], mesh.points[a]));
  if (reach == 0) return rough[v];
  for (int ring = 0; ring < 2 && near.size() < 10; ++ring) {
    const std::size_t known = near.size();
    for (std::size_t i = 0; i < known; ++i) {
      for (VertexIndex b : round[near[i]]) {
        if (b != v && dot(rough[b], rough[v]) > kSmooth) near.push_back(b);
      }
    }
    std::sort(near.begin(), near.end());
    near.erase(std::unique(near.begin(), near.end()), near.end());
  }
  if (near.size() < 7) return rough[v];

  const Vec3 n = rough[v];
  Vec3 u = std::fabs(n.x) < 0.7 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
  u = u - dot(u, n) * n;
  u = u / length(u);
  const Vec3 w = cross(n, u);
  std::array<std::array<double, 6>, 5> m{};
  for (VertexIndex b : near) {
    const Vec3 r = (mesh.points[b] - mesh.points[v]) / reach;
    const double x = dot(r, u), y = dot(r, w), z = dot(r, n);
    const double away = x * x + y * y;
    const double weight = 1 / (0.02 + away * away);
    const std::array<double, 6> row{x, y, x * x, x * y, y * y, z};
    for (std::size_t i = 0; i < 5; ++i) {
      for (std::size_t j = 0; j < 6; ++j) m[i][j] += weight * row[i] * row[j];
    }
  }
  if (!solve(m)) return n;
  const Vec3 fitted = n - (m[0][5] / m[0][0]) * u - (m[1][5] / m[1][1]) * w;
  const Vec3 unit = fitted / length(fitted);
  return dot(unit, n) > 0.8 ? unit : n;
}

std::vector<Vec3> smooth_normals(const TriMesh& mesh) {
  const std::vector<Vec3> rough = averaged_normals(mesh);
  const auto round = neighbours(mesh);
  std::vector<Vec3> normals;
  normals.reserve(rough.size());
  std::vector<VertexIndex> near;
  for (VertexIndex v = 0; v < rough.size(); ++v) {
    normals.push_back(fitted_normal(mesh, rough, round, v, near));
  }
  return normals;
}

Result<void> check(const GltfMesh& mesh, std::size_t materials) {
  const std::string name(mesh.name);
  if (mesh.surface == nullptr || mesh.surface->triangles.empty()) {
    return fail(ErrorCode::invalid_input, "A mesh without triangles cannot be written", name);
  }
  if (mesh.material >= materials) {
    return fail(ErrorCode::invalid_input, "The material's index is past the last material", name);
  }
  for (const Vec3& p : mesh.surface->points) {
    if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z)) {
      return fail(ErrorCode::invalid_input, "A coordinate is not a finite number", name);
    }
  }
  for (const Triangle& t : mesh.surface->triangles) {
    if (std::max({t[0], t[1], t[2]}) >= mesh.surface->points.size()) {
      return fail(ErrorCode::invalid_input, "A vertex index is past the last vertex", name);
    }
  }
  return {};
}

json material_json(const GltfMaterial& material) {
  json out{{"name", material.name},
           {"pbrMetallicRoughness",
            {{"baseColorFactor", material.colour},
             {"metallicFactor", material.metallic},
             {"roughnessFactor", material.roughness}}}};
  if (material.colour[3] < 1) out["alphaMode"] = "BLEND";
  if (material.both_sides) out["doubleSided"] = true;
  if (material.clear_coat > 0) {
    out["extensions"]["KHR_materials_clearcoat"] = {{"clearcoatFactor", material.clear_coat},
                                                    {"clearcoatRoughnessFactor", 0.04}};
  }
  return out;
}

/// Collects the binary part and the tables that describe it.
class Buffer {
 public:
  int add_vectors(const std::vector<Vec3>& vectors, bool with_bounds) {
    const std::size_t start = bytes.size();
    std::array<float, 3> low{}, high{};
    for (std::size_t i = 0; i < vectors.size(); ++i) {
      const std::array<float, 3> v{static_cast<float>(vectors[i].x),
                                   static_cast<float>(vectors[i].y),
                                   static_cast<float>(vectors[i].z)};
      for (std::size_t k = 0; k < 3; ++k) {
        low[k] = i == 0 ? v[k] : std::min(low[k], v[k]);
        high[k] = i == 0 ? v[k] : std::max(high[k], v[k]);
        append(bytes, v[k]);
      }
    }
    json accessor = table(start, kVertices, kFloat, "VEC3", vectors.size());
    if (with_bounds) {
      accessor["min"] = low;
      accessor["max"] = high;
    }
    accessors.push_back(std::move(accessor));
    return static_cast<int>(accessors.size()) - 1;
  }

  int add_triangles(const std::vector<Triangle>& triangles) {
    const std::size_t start = bytes.size();
    for (const Triangle& t : triangles) {
      for (VertexIndex v : t) append(bytes, v);
    }
    accessors.push_back(table(start, kIndices, kUnsigned, "SCALAR", 3 * triangles.size()));
    return static_cast<int>(accessors.size()) - 1;
  }

  std::string bytes;
  json views = json::array();
  json accessors = json::array();

 private:
  json table(std::size_t start, int target, int component, const char* type, std::size_t count) {
    views.push_back({{"buffer", 0},
                     {"byteOffset", start},
                     {"byteLength", bytes.size() - start},
                     {"target", target}});
    return {{"bufferView", views.size() - 1},
            {"componentType", component},
            {"count", count},
            {"type", type}};
  }
};

void add_chunk(std::string& file, const char* type, const std::string& content, char filler) {
  const std::size_t padded = (content.size() + 3) / 4 * 4;
  append(file, static_cast<std::uint32_t>(padded));
  file.append(type, 4);
  file += content;
  file.append(padded - content.size(), filler);
}

}  // namespace

Result<std::string> write_glb(std::span<const GltfMesh> meshes,
                              std::span<const GltfMaterial> materials) {
  if (meshes.empty()) return fail(ErrorCode::invalid_input, "There is no mesh to write");
  std::size_t expected = 0;
  for (const GltfMesh& mesh : meshes) {
    if (auto good = check(mesh, materials.size()); !good) return Failure(good.error());
    expected += 24 * mesh.surface->points.size() + 12 * mesh.surface->triangles.size() + 1024;
  }
  if (expected > kGreatestFile) {
    return fail(ErrorCode::too_large, "The scene is past the 4 GiB that the form allows");
  }

  Buffer buffer;
  json nodes = json::array(), shapes = json::array(), roots = json::array(), looks = json::array();
  for (const GltfMesh& mesh : meshes) {
    std::vector<Vec3> points, normals = smooth_normals(*mesh.surface);
    for (const Vec3& p : mesh.surface->points) points.push_back(0.001 * to_gltf(p));
    for (Vec3& n : normals) n = to_gltf(n);
    const int positions = buffer.add_vectors(points, true);
    const int directions = buffer.add_vectors(normals, false);
    const int indices = buffer.add_triangles(mesh.surface->triangles);
    roots.push_back(nodes.size());
    nodes.push_back({{"name", mesh.name}, {"mesh", shapes.size()}});
    shapes.push_back({{"name", mesh.name},
                      {"primitives",
                       {{{"attributes", {{"POSITION", positions}, {"NORMAL", directions}}},
                         {"indices", indices},
                         {"material", mesh.material}}}}});
  }
  bool coated = false;
  for (const GltfMaterial& material : materials) {
    looks.push_back(material_json(material));
    coated = coated || material.clear_coat > 0;
  }

  json document{{"asset", {{"version", "2.0"}, {"generator", "Filmwright"}}},
                {"scene", 0},
                {"scenes", {{{"nodes", roots}}}},
                {"nodes", nodes},
                {"meshes", shapes},
                {"materials", looks},
                {"accessors", buffer.accessors},
                {"bufferViews", buffer.views},
                {"buffers", {{{"byteLength", buffer.bytes.size()}}}}};
  if (coated) document["extensionsUsed"] = {"KHR_materials_clearcoat"};
  const std::string text = document.dump();
  const std::size_t total = 12 + 8 + (text.size() + 3) / 4 * 4 + 8 + buffer.bytes.size();
  if (total > kGreatestFile) {
    return fail(ErrorCode::too_large, "The scene is past the 4 GiB that the form allows");
  }
  std::string file = "glTF";
  append(file, std::uint32_t{2});
  append(file, static_cast<std::uint32_t>(total));
  add_chunk(file, "JSON", text, ' ');
  add_chunk(file, "BIN\0", buffer.bytes, '\0');
  return file;
}

}  // namespace film::formats
