#pragma once

#include <span>
#include <string>
#include <string_view>

#include "base/result.h"
#include "geometry/trimesh.h"
#include "geometry/vec.h"

namespace film::formats {

enum class MeshFormat { obj, ply, stl, glb };

/// By the ending of a file's name, any case. Errors: unsupported, naming the endings known.
Result<MeshFormat> mesh_format_of(std::string_view file_name);

/// What one unit of the file's coordinates is.
enum class MeshUnit { m, mm, in };

/// Reads a surface and brings it to mm. OBJ keeps vertex and face order exactly; polygons become
/// fans; texture coordinates, normals, groups and materials are passed over. PLY keeps
/// order too; STL and GLB corners at the same place become one vertex.
/// Errors: invalid_input (with the line for OBJ; nothing but points; truncated bytes), too_large
/// (past 16 million corners). Coordinates that are not finite are refused.
Result<TriMesh> read_mesh(std::string_view bytes, MeshFormat format, MeshUnit unit);

/// OBJ text of the surface with its flat positions as texture coordinates in mm (vt i belongs to
/// v i; empty `flat` writes none). Points are divided by the unit, so a file read with the same
/// unit is repeated; numbers are the shortest that read back the same.
std::string write_obj(const TriMesh& mesh, std::span<const Vec2> flat, MeshUnit unit);

}  // namespace film::formats
