#include "store/mesh_bytes.h"

#include <bit>
#include <cstdint>

namespace film::store {
namespace {

constexpr std::string_view kMark = "FWMESH1\n";

template <class Unsigned>
void put(std::string& out, Unsigned value) {
  for (std::size_t i = 0; i < sizeof(Unsigned); ++i) {
    out += static_cast<char>(static_cast<unsigned char>(value >> (8 * i)));
  }
}

template <class Unsigned>
Unsigned take(std::string_view& bytes) {
  Unsigned value = 0;
  for (std::size_t i = 0; i < sizeof(Unsigned); ++i) {
    value |= static_cast<Unsigned>(static_cast<unsigned char>(bytes[i])) << (8 * i);
  }
  bytes.remove_prefix(sizeof(Unsigned));
  return value;
}

double take_double(std::string_view& bytes) {
  return std::bit_cast<double>(take<std::uint64_t>(bytes));
}

Failure broken(std::string what) {
  return fail(ErrorCode::invalid_input, std::move(what), "stored surface",
              "The book is damaged: restore a backup.");
}

}  // namespace

std::string mesh_to_bytes(const TriMesh& mesh) {
  std::string out(kMark);
  out.reserve(kMark.size() + 8 + mesh.points.size() * 24 + mesh.triangles.size() * 12);
  put(out, static_cast<std::uint32_t>(mesh.points.size()));
  put(out, static_cast<std::uint32_t>(mesh.triangles.size()));
  for (const Vec3& p : mesh.points) {
    for (const double value : {p.x, p.y, p.z}) put(out, std::bit_cast<std::uint64_t>(value));
  }
  for (const Triangle& t : mesh.triangles) {
    for (const VertexIndex index : t) put(out, index);
  }
  return out;
}

Result<TriMesh> mesh_from_bytes(std::string_view bytes) {
  if (bytes.substr(0, kMark.size()) != kMark || bytes.size() < kMark.size() + 8) {
    return broken("these bytes are no surface");
  }
  bytes.remove_prefix(kMark.size());
  const std::size_t points = take<std::uint32_t>(bytes);
  const std::size_t triangles = take<std::uint32_t>(bytes);
  if (bytes.size() != points * 24 + triangles * 12) return broken("a surface is cut short");
  TriMesh mesh;
  mesh.points.resize(points);
  mesh.triangles.resize(triangles);
  for (Vec3& p : mesh.points) {
    p.x = take_double(bytes);
    p.y = take_double(bytes);
    p.z = take_double(bytes);
  }
  for (Triangle& t : mesh.triangles) {
    for (VertexIndex& index : t) {
      index = take<std::uint32_t>(bytes);
      if (index >= points) return broken("a surface names a point that it does not have");
    }
  }
  return mesh;
}

}  // namespace film::store
