#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>

#include "geometry/trimesh.h"

/// Meshes made of a fuzzer's bytes.
namespace film::fuzz {

/// Takes numbers from the fuzzer's bytes; zeros when they have run out.
class Source {
 public:
  Source(const std::uint8_t* data, std::size_t size) : data_(data), size_(size) {}
  std::uint8_t byte() { return at_ < size_ ? data_[at_++] : std::uint8_t{0}; }
  double offset() { return static_cast<double>(static_cast<std::int8_t>(byte())); }
  double share() { return static_cast<double>(byte()) / 255; }

 private:
  const std::uint8_t* data_;
  std::size_t size_;
  std::size_t at_ = 0;
};

/// A small sheet with openings, turned and torn triangles, and vertices at one place.
inline TriMesh torn_sheet(Source& source) {
  const VertexIndex columns = 2 + source.byte() % 6;
  const VertexIndex rows = 2 + source.byte() % 6;
  const double bumps = std::pow(2.0, source.byte() % 8);
  TriMesh mesh;
  for (VertexIndex j = 0; j < rows; ++j) {
    for (VertexIndex i = 0; i < columns; ++i) {
      mesh.points.push_back({100.0 * i + source.offset() * bumps / 64,
                             100.0 * j + source.offset() * bumps / 64,
                             source.offset() * bumps / 16});
    }
  }
  for (VertexIndex j = 0; j + 1 < rows; ++j) {
    for (VertexIndex i = 0; i + 1 < columns; ++i) {
      const VertexIndex a = j * columns + i;
      const std::uint8_t what = source.byte();
      if (what % 16 == 15) continue;  // an opening
      mesh.triangles.push_back({a, a + 1, a + columns + 1});
      mesh.triangles.push_back({a, a + columns + 1, a + columns});
      if (what % 16 == 14) std::swap(mesh.triangles.back()[0], mesh.triangles.back()[1]);
      if (what % 16 == 13) mesh.triangles.back()[0] = source.byte() % (rows * columns);
      if (what % 16 == 12) mesh.points[a] = mesh.points[a + 1];
    }
  }
  return mesh;
}

/// A panel of some hundred triangles through sixteen random heights, smooth between them, with
/// openings and notches where the bytes say so.
inline TriMesh curved_panel(Source& source) {
  const double width = 100 + 8 * (source.share() * 255);
  const double length = 100 + 8 * (source.share() * 255);
  const double height = std::pow(2.0, source.byte() % 8) / 64;
  std::array<std::array<double, 4>, 4> control{};
  for (auto& row : control) {
    for (double& z : row) z = height * source.offset();
  }
  const auto weights = [](double t) {  // Bernstein's
    const double s = 1 - t;
    return std::array{s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t};
  };
  const VertexIndex columns = 4 + source.byte() % 10;
  const VertexIndex rows = 4 + source.byte() % 10;
  TriMesh mesh;
  for (VertexIndex j = 0; j <= rows; ++j) {
    for (VertexIndex i = 0; i <= columns; ++i) {
      const auto u = weights(static_cast<double>(i) / columns);
      const auto v = weights(static_cast<double>(j) / rows);
      double z = 0;
      for (std::size_t b = 0; b < 4; ++b) {
        for (std::size_t a = 0; a < 4; ++a) z += v[b] * u[a] * control[b][a];
      }
      mesh.points.push_back({length * i / columns, width * j / rows, z});
    }
  }
  for (VertexIndex j = 0; j < rows; ++j) {
    for (VertexIndex i = 0; i < columns; ++i) {
      if (source.byte() % 32 == 31) continue;
      const VertexIndex a = j * (columns + 1) + i;
      const VertexIndex d = a + columns + 1;
      if ((i + j) % 2 == 0) {
        mesh.triangles.push_back({a, a + 1, d + 1});
        mesh.triangles.push_back({a, d + 1, d});
      } else {
        mesh.triangles.push_back({a, a + 1, d});
        mesh.triangles.push_back({a + 1, d + 1, d});
      }
    }
  }
  return mesh;
}

}  // namespace film::fuzz
