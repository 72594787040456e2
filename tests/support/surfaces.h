#pragma once

#include <cmath>
#include <cstddef>
#include <numbers>

#include "geometry/trimesh.h"

/// Surfaces with known answers, in mm, for tests and benchmarks.
namespace film::test {

/// A grid of nx by ny cells over [0,1]^2, each point placed by `at(u, v)`; cells are split along
/// alternating diagonals. Oriented so that u x v points outward.
template <class Placement>
TriMesh grid_surface(std::size_t nx, std::size_t ny, Placement at) {
  TriMesh mesh;
  for (std::size_t j = 0; j <= ny; ++j) {
    for (std::size_t i = 0; i <= nx; ++i) {
      mesh.points.push_back(at(static_cast<double>(i) / static_cast<double>(nx),
                               static_cast<double>(j) / static_cast<double>(ny)));
    }
  }
  const auto index = [nx](std::size_t i, std::size_t j) {
    return static_cast<VertexIndex>(j * (nx + 1) + i);
  };
  for (std::size_t j = 0; j < ny; ++j) {
    for (std::size_t i = 0; i < nx; ++i) {
      const VertexIndex a = index(i, j);
      const VertexIndex b = index(i + 1, j);
      const VertexIndex c = index(i + 1, j + 1);
      const VertexIndex d = index(i, j + 1);
      if ((i + j) % 2 == 0) {
        mesh.triangles.push_back({a, b, c});
        mesh.triangles.push_back({a, c, d});
      } else {
        mesh.triangles.push_back({a, b, d});
        mesh.triangles.push_back({b, c, d});
      }
    }
  }
  return mesh;
}

/// Part of a cylinder about the y axis: `angle` of arc across, `length` along y.
inline TriMesh cylinder(double radius, double angle, double length, std::size_t nx,
                        std::size_t ny) {
  return grid_surface(nx, ny, [=](double u, double v) {
    const double a = angle * (u - 0.5);
    return Vec3{radius * std::sin(a), length * v, radius * std::cos(a)};
  });
}

/// Part of a cone about the z axis, by slant from `inner` to `outer`.
inline TriMesh cone(double half_angle, double inner, double outer, double azimuth, std::size_t nx,
                    std::size_t ny) {
  return grid_surface(nx, ny, [=](double u, double v) {
    const double a = azimuth * (u - 0.5);
    const double s = outer + (inner - outer) * v;
    return Vec3{s * std::sin(half_angle) * std::sin(a), -s * std::sin(half_angle) * std::cos(a),
                -s * std::cos(half_angle)};
  });
}

/// A disk of rings about the z axis: ring k has 6 k points. `at(radius share, azimuth)`.
template <class Placement>
TriMesh disk_surface(std::size_t rings, Placement at) {
  TriMesh mesh;
  mesh.points.push_back(at(0.0, 0.0));
  const auto ring_start = [](std::size_t k) { return 1 + 3 * k * (k - 1); };
  for (std::size_t k = 1; k <= rings; ++k) {
    for (std::size_t i = 0; i < 6 * k; ++i) {
      mesh.points.push_back(
          at(static_cast<double>(k) / static_cast<double>(rings),
             2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(6 * k)));
    }
  }
  const auto point = [&](std::size_t k, std::size_t i) {
    return static_cast<VertexIndex>(k == 0 ? 0 : ring_start(k) + i % (6 * k));
  };
  for (std::size_t k = 1; k <= rings; ++k) {
    for (std::size_t side = 0; side < 6; ++side) {
      for (std::size_t i = 0; i < k; ++i) {
        mesh.triangles.push_back(
            {point(k, side * k + i), point(k, side * k + i + 1), point(k - 1, side * (k - 1) + i)});
        if (i + 1 < k) {
          mesh.triangles.push_back({point(k - 1, side * (k - 1) + i), point(k, side * k + i + 1),
                                    point(k - 1, side * (k - 1) + i + 1)});
        }
      }
    }
  }
  return mesh;
}

/// A disk of rings, placed by a point of the unit disk.
template <class Placement>
TriMesh unit_disk_surface(std::size_t rings, Placement at) {
  return disk_surface(rings, [=](double share, double azimuth) {
    return at(Vec2{share * std::cos(azimuth), share * std::sin(azimuth)});
  });
}

/// A spherical cap of the given angular radius.
inline TriMesh cap(double radius, double angle, std::size_t rings) {
  return disk_surface(rings, [=](double share, double azimuth) {
    const double a = angle * share;
    return Vec3{radius * std::sin(a) * std::cos(azimuth), radius * std::sin(a) * std::sin(azimuth),
                radius * std::cos(a)};
  });
}

/// A hood: crowned, `width` across y and `length` along x (front at high x); `lip` mm of its front
/// curl down and under by `lip_turn` radians.
inline auto hood_placement(double width, double length, double crown, double lip, double lip_turn) {
  return [=](double u, double v) {
    const double s = length * u;
    const double flat_end = length - lip;
    double x = std::min(s, flat_end);
    double z = 0;
    if (s > flat_end && lip > 0) {
      const double r = lip / lip_turn;
      const double a = (s - flat_end) / r;
      x = flat_end + r * std::sin(a);
      z = -r * (1 - std::cos(a));
    }
    const double across = 2 * v - 1;
    const double bow = 0.3 * crown * (1 - std::pow(2 * x / length - 1, 2));
    return Vec3{x - 0.08 * width * across * across * u, width / 2 * across,
                z - crown * across * across + bow};
  };
}
inline TriMesh hood(double width, double length, double crown, double lip, double lip_turn,
                    std::size_t nx, std::size_t ny) {
  return grid_surface(nx, ny, hood_placement(width, length, crown, lip, lip_turn));
}

}  // namespace film::test
