#include "formats/mesh.h"

#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <exception>
#include <unordered_map>

#include <assimp/Importer.hpp>
#include <assimp/config.h>
#include <assimp/postprocess.h>
#include <assimp/scene.h>

#include "base/text.h"
#include "base/units.h"
#include "formats/detail/mesh_readers.h"

namespace film::formats {
namespace {

using detail::kGreatestCorners;

double mm_per(MeshUnit unit) {
  switch (unit) {
    case MeshUnit::m: return 1000;
    case MeshUnit::mm: return 1;
    case MeshUnit::in: return Mm::kPerInch;
  }
  return 1;
}

/// Reads the words of one line of an OBJ file.
class Words {
 public:
  explicit Words(std::string_view line) : at_(line.data()), end_(line.data() + line.size()) {}

  std::string_view word() {
    skip_blanks();
    const char* const start = at_;
    while (at_ != end_ && !blank(*at_)) ++at_;
    return {start, static_cast<std::size_t>(at_ - start)};
  }
  bool number(double& value) {
    skip_blanks();
    if (at_ != end_ && *at_ == '+') ++at_;
    const auto [stop, error] = std::from_chars(at_, end_, value);
    if (error != std::errc{} || (stop != end_ && !blank(*stop))) return false;
    at_ = stop;
    return true;
  }

 private:
  static bool blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }
  void skip_blanks() {
    while (at_ != end_ && blank(*at_)) ++at_;
  }
  const char* at_;
  const char* end_;
};

class ObjReader {
 public:
  ObjReader(std::string_view bytes, double scale) : rest_(bytes), scale_(scale) {}

  Result<TriMesh> run() {
    while (!rest_.empty()) {
      ++line_number_;
      Words words(next_line());
      const std::string_view kind = words.word();
      if (kind == "v") {
        if (auto step = vertex(words); !step) return Failure(step.error());
      } else if (kind == "f") {
        if (auto step = face(words); !step) return Failure(step.error());
      }
    }
    if (mesh_.triangles.empty()) {
      return fail(ErrorCode::invalid_input, "there are no faces in the file", {},
                  "Export the panel as a triangle surface");
    }
    return std::move(mesh_);
  }

 private:
  /// The next line without its end; a backslash at the end joins the line after it.
  std::string_view next_line() {
    std::string_view line = cut_line();
    if (!line.ends_with('\\')) return line;
    joined_.clear();
    while (line.ends_with('\\')) {
      joined_.append(line.substr(0, line.size() - 1)).append(" ");
      ++line_number_;
      line = cut_line();
    }
    joined_.append(line);
    return joined_;
  }
  std::string_view cut_line() {
    const std::size_t end = rest_.find('\n');
    std::string_view line = rest_.substr(0, end);
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    if (line.ends_with('\r')) line.remove_suffix(1);
    return line;
  }

  [[nodiscard]] Failure refuse(std::string what) const {
    return fail(ErrorCode::invalid_input, std::move(what), format("line {}", line_number_),
                "Export the mesh again");
  }

  Result<void> vertex(Words& words) {
    double x = 0;
    double y = 0;
    double z = 0;
    if (!words.number(x) || !words.number(y) || !words.number(z)) {
      return refuse("a vertex needs three numbers");
    }
    if (!std::isfinite(x) || !std::isfinite(y) || !std::isfinite(z)) {
      return refuse("a coordinate is not a finite number");
    }
    if (mesh_.points.size() >= kGreatestCorners) return too_large();
    mesh_.points.push_back({scale_ * x, scale_ * y, scale_ * z});
    return {};
  }

  Result<void> face(Words& words) {
    corners_.clear();
    for (std::string_view word = words.word(); !word.empty(); word = words.word()) {
      if (word.front() == '#') break;
      std::int64_t index = 0;
      const auto [stop, error] = std::from_chars(word.data(), word.data() + word.size(), index);
      const bool whole = stop == word.data() + word.size() || *stop == '/';
      if (error != std::errc{} || !whole || index == 0) {
        return refuse(format("\"{}\" is not a vertex of a face", word));
      }
      const auto count = static_cast<std::int64_t>(mesh_.points.size());
      const std::int64_t position = index > 0 ? index - 1 : count + index;
      if (position < 0 || position >= count) {
        return refuse(format("a face names vertex {}, but {} are read so far", index, count));
      }
      corners_.push_back(static_cast<VertexIndex>(position));
    }
    if (corners_.size() < 3) return refuse("a face needs three vertices");
    if (3 * mesh_.triangles.size() + 3 * corners_.size() > kGreatestCorners) return too_large();
    for (std::size_t i = 2; i < corners_.size(); ++i) {
      mesh_.triangles.push_back({corners_[0], corners_[i - 1], corners_[i]});
    }
    return {};
  }

  [[nodiscard]] Failure too_large() const {
    return fail(ErrorCode::too_large, "the mesh is too large", format("line {}", line_number_),
                "Export it coarser");
  }

  std::string_view rest_;
  double scale_;
  std::size_t line_number_ = 0;
  std::string joined_;
  std::vector<VertexIndex> corners_;
  TriMesh mesh_;
};

struct PointHash {
  std::size_t operator()(const Vec3& p) const {
    const auto bits = [](double x) { return std::bit_cast<std::uint64_t>(x + 0.0); };
    std::uint64_t h = bits(p.x) * 0x9e3779b97f4a7c15u;
    h = (h ^ (h >> 29)) + bits(p.y) * 0xbf58476d1ce4e5b9u;
    h = (h ^ (h >> 31)) + bits(p.z) * 0x94d049bb133111ebu;
    return static_cast<std::size_t>(h ^ (h >> 30));
  }
};

/// Makes corners at exactly the same place one vertex, in the order of first use.
TriMesh joined_by_position(const TriMesh& mesh) {
  TriMesh result;
  std::unordered_map<Vec3, VertexIndex, PointHash> known;
  known.reserve(mesh.points.size());
  for (const Triangle& t : mesh.triangles) {
    Triangle joined{};
    for (std::size_t k = 0; k < 3; ++k) {
      const auto [slot, fresh] =
          known.try_emplace(mesh.points[t[k]], static_cast<VertexIndex>(result.points.size()));
      if (fresh) result.points.push_back(mesh.points[t[k]]);
      joined[k] = slot->second;
    }
    result.triangles.push_back(joined);
  }
  return result;
}

Result<TriMesh> gather(const aiScene& scene, double scale) {
  TriMesh mesh;
  for (unsigned m = 0; m < scene.mNumMeshes; ++m) {
    const aiMesh& part = *scene.mMeshes[m];
    const auto base = static_cast<VertexIndex>(mesh.points.size());
    if (mesh.points.size() + part.mNumVertices > kGreatestCorners ||
        3 * (mesh.triangles.size() + part.mNumFaces) > kGreatestCorners) {
      return fail(ErrorCode::too_large, "the mesh is too large", {}, "Export it coarser");
    }
    for (unsigned v = 0; v < part.mNumVertices; ++v) {
      const aiVector3D& p = part.mVertices[v];
      if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z)) {
        return fail(ErrorCode::invalid_input,
                    format("vertex {} has a coordinate that is not a finite number", v + 1), {},
                    "Delete it or export the mesh again");
      }
      mesh.points.push_back({scale * static_cast<double>(p.x), scale * static_cast<double>(p.y),
                             scale * static_cast<double>(p.z)});
    }
    for (unsigned f = 0; f < part.mNumFaces; ++f) {
      const aiFace& face = part.mFaces[f];
      if (face.mNumIndices != 3) continue;  // points and lines carry no film
      const auto* i = face.mIndices;
      if (i[0] >= part.mNumVertices || i[1] >= part.mNumVertices || i[2] >= part.mNumVertices) {
        return fail(ErrorCode::invalid_input, "a face names a vertex that is not there", {},
                    "The file is damaged: export it again");
      }
      mesh.triangles.push_back({base + i[0], base + i[1], base + i[2]});
    }
  }
  if (mesh.triangles.empty()) {
    return fail(ErrorCode::invalid_input, "there are no faces in the file", {},
                "Export the panel as a triangle surface");
  }
  return mesh;
}

/// Errors unless there are faces and every coordinate is finite.
Result<TriMesh> checked(Result<TriMesh> mesh) {
  if (!mesh) return mesh;
  for (std::size_t v = 0; v < mesh->points.size(); ++v) {
    const Vec3& p = mesh->points[v];
    if (std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z)) continue;
    return fail(ErrorCode::invalid_input,
                format("vertex {} has a coordinate that is not a finite number", v + 1), {},
                "Delete it or export the mesh again");
  }
  if (mesh->triangles.empty()) {
    return fail(ErrorCode::invalid_input, "there are no faces in the file", {},
                "Export the panel as a triangle surface");
  }
  return mesh;
}

Result<TriMesh> read_glb(std::string_view bytes, double scale) {
  const auto refuse = [](std::string_view why) {
    return fail(ErrorCode::invalid_input, format("the file is no readable glb: {}", why), {},
                "Check that the file is whole, or export it again");
  };
  // Told lengths are held against the bytes before the library sees them.
  if (bytes.size() < 20 || !bytes.starts_with("glTF")) return refuse("it does not begin as one");
  std::uint32_t length = 0;
  std::memcpy(&length, bytes.data() + 8, 4);
  if (length > bytes.size()) return refuse("it is truncated");
  try {
    Assimp::Importer importer;
    importer.SetPropertyInteger(AI_CONFIG_PP_SBP_REMOVE,
                                aiPrimitiveType_POINT | aiPrimitiveType_LINE);
    const aiScene* const scene = importer.ReadFileFromMemory(
        bytes.data(), bytes.size(),
        aiProcess_Triangulate | aiProcess_SortByPType | aiProcess_PreTransformVertices, "glb");
    if (scene == nullptr) return refuse(importer.GetErrorString());
    return gather(*scene, scale);
  } catch (const std::exception& error) {
    return refuse(error.what());
  }
}

void append_number(std::string& text, double value) {
  std::array<char, 32> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr;
  text.push_back(' ');
  text.append(buffer.data(), end);
}

}  // namespace

Result<MeshFormat> mesh_format_of(std::string_view file_name) {
  const std::size_t dot = file_name.rfind('.');
  std::string ending(dot == std::string_view::npos ? "" : file_name.substr(dot + 1));
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  if (ending == "obj") return MeshFormat::obj;
  if (ending == "ply") return MeshFormat::ply;
  if (ending == "stl") return MeshFormat::stl;
  if (ending == "glb") return MeshFormat::glb;
  return fail(ErrorCode::unsupported, "the kind of mesh file is not known", std::string(file_name),
              "Use .obj, .ply, .stl or .glb");
}

Result<TriMesh> read_mesh(std::string_view bytes, MeshFormat kind, MeshUnit unit) {
  if (bytes.empty()) {
    return fail(ErrorCode::invalid_input, "the file is empty", {}, "Export the mesh again");
  }
  if (kind == MeshFormat::obj) return ObjReader(bytes, mm_per(unit)).run();
  if (kind == MeshFormat::ply) return checked(detail::read_ply(bytes, mm_per(unit)));
  auto mesh = checked(kind == MeshFormat::stl ? detail::read_stl(bytes, mm_per(unit))
                                              : read_glb(bytes, mm_per(unit)));
  if (!mesh) return mesh;
  return joined_by_position(*mesh);
}

std::string write_obj(const TriMesh& mesh, std::span<const Vec2> flat, MeshUnit unit) {
  std::string text;
  text.reserve(mesh.points.size() * 96 + mesh.triangles.size() * 36);
  const double scale = mm_per(unit);
  for (const Vec3& p : mesh.points) {
    text += 'v';
    append_number(text, p.x / scale);
    append_number(text, p.y / scale);
    append_number(text, p.z / scale);
    text += '\n';
  }
  for (const Vec2& p : flat) {
    text += "vt";
    append_number(text, p.x);
    append_number(text, p.y);
    text += '\n';
  }
  for (const Triangle& t : mesh.triangles) {
    text += 'f';
    for (const VertexIndex v : t) {
      text += ' ';
      const std::string index = std::to_string(v + 1);
      text += index;
      if (!flat.empty()) {
        text += '/';
        text += index;
      }
    }
    text += '\n';
  }
  return text;
}

}  // namespace film::formats
