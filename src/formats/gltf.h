#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string>
#include <string_view>

#include "base/result.h"
#include "geometry/trimesh.h"

namespace film::formats {

/// How a surface looks, in the terms of glTF's metallic-roughness model.
struct GltfMaterial {
  std::string name;
  std::array<double, 4> colour{1, 1, 1, 1};  ///< linear red, green, blue, and opacity
  double metallic = 0;
  double roughness = 0.5;
  double clear_coat = 0;    ///< strength of a clear layer on top (KHR_materials_clearcoat)
  bool both_sides = false;  ///< drawn from behind as well
};

/// A mesh with its name; both must outlive the call.
struct GltfMesh {
  std::string_view name;
  std::size_t material = 0;  ///< index into the materials
  const TriMesh* surface = nullptr;
};

/// One binary glTF 2.0 file (GLB): a node for each mesh, named after it, in order. Vertex and
/// triangle order are those of the mesh, so that values per vertex or triangle can be laid over.
/// Normals are smooth over each mesh.
///
/// Frame: from vehicle (x forward, y left, z up, mm) to glTF (x right-handed, y up, metres):
/// (x, y, z) mm becomes (y, z, x) / 1000, so that the vehicle looks along glTF's +z, as the
/// standard asks of models.
/// Errors: invalid_input (no mesh, an empty mesh, an index out of range, a coordinate that is not
/// finite), too_large (past 4 GiB, the form's limit).
/// Source: Khronos Group, "glTF 2.0 Specification", 3.4 (coordinates, units), 4.4 (GLB).
Result<std::string> write_glb(std::span<const GltfMesh> meshes,
                              std::span<const GltfMaterial> materials);

}  // namespace film::formats
