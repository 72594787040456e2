#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "geometry/trimesh.h"
#include "geometry/vec.h"
#include "surface/tension.h"

/// A thin flat ring held at its outer edge while its inner edge is turned by a small angle, so that
/// it wrinkles all over: the exact tension field, straight lines all tangent to one circle.
/// After E. Reissner, On tension field theory, Proc. 5th Int. Congress of Applied Mechanics, 1938,
/// and E. H. Mansfield, Load transfer via a wrinkled membrane, Proc. R. Soc. Lond. A 316, 1970;
/// derived anew in docs/algorithms/surface.md.
namespace film::test {

struct TwistedRing {
  double inner = 100;  ///< mm
  double outer = 200;
  double twist = 1e-3;  ///< radians

  /// Radius of the circle that all lines of tension touch: the root of
  /// log((b^2 - c^2) / (a^2 - c^2)) = c^2 (b^2 - a^2) / ((a^2 - c^2) (b^2 - c^2)).
  [[nodiscard]] double circle() const {
    const double a2 = inner * inner;
    const double b2 = outer * outer;
    double low = 0.01 * inner;
    double high = (1 - 1e-12) * inner;
    for (int i = 0; i < 200; ++i) {
      const double c = (low + high) / 2;
      const double c2 = c * c;
      const double excess =
          std::log((b2 - c2) / (a2 - c2)) - c2 * (b2 - a2) / ((a2 - c2) * (b2 - c2));
      (excess > 0 ? low : high) = c;
    }
    return (low + high) / 2;
  }
  [[nodiscard]] double log_ratio() const {
    const double c2 = circle() * circle();
    return std::log((outer * outer - c2) / (inner * inner - c2)) / 2;
  }
  /// Stored energy, stress and the sine of the angle between the line of tension and the radius;
  /// for a film of stiffness 1 and thickness 1.
  [[nodiscard]] double energy() const {
    return std::numbers::pi * std::pow(twist * circle(), 2) / log_ratio();
  }
  [[nodiscard]] double stress(double radius) const {
    const double c = circle();
    return twist * c / log_ratio() / std::sqrt(radius * radius - c * c);
  }
  [[nodiscard]] double sine(double radius) const { return circle() / radius; }

  /// The ring as a surface in the plane, inner edge turned; `rings` of triangles across.
  [[nodiscard]] TriMesh mesh(std::size_t around, std::size_t rings) const {
    TriMesh result;
    for (std::size_t k = 0; k <= rings; ++k) {
      // Finer towards the inner edge, where the stress is steep.
      const double share = static_cast<double>(k) / static_cast<double>(rings);
      const double r = inner * std::pow(outer / inner, share);
      for (std::size_t i = 0; i < around; ++i) {
        const double a = 2 * std::numbers::pi * (static_cast<double>(i) + (k % 2 == 0 ? 0 : 0.5)) /
                         static_cast<double>(around);
        result.points.push_back({r * std::cos(a), r * std::sin(a), 0});
      }
    }
    const auto at = [around](std::size_t k, std::size_t i) {
      return static_cast<VertexIndex>(k * around + i % around);
    };
    for (std::size_t k = 0; k < rings; ++k) {
      for (std::size_t i = 0; i < around; ++i) {
        if (k % 2 == 0) {
          result.triangles.push_back({at(k, i), at(k + 1, i), at(k, i + 1)});
          result.triangles.push_back({at(k, i + 1), at(k + 1, i), at(k + 1, i + 1)});
        } else {
          result.triangles.push_back({at(k, i), at(k + 1, i), at(k + 1, i + 1)});
          result.triangles.push_back({at(k, i), at(k + 1, i + 1), at(k, i + 1)});
        }
      }
    }
    return result;
  }

  /// The film before the inner edge was turned; in between a guess.
  [[nodiscard]] std::vector<Vec2> film(const TriMesh& ring) const {
    std::vector<Vec2> flat;
    for (const Vec3& p : ring.points) {
      const double r = std::hypot(p.x, p.y);
      const double back = -twist * (outer - r) / (outer - inner);
      flat.push_back({std::cos(back) * p.x - std::sin(back) * p.y,
                      std::sin(back) * p.x + std::cos(back) * p.y});
    }
    return flat;
  }

  /// Root mean square differences over the area: of the stress, as a share of its own root mean
  /// square, and of the direction in radians.
  struct Differences {
    double stress, direction;
  };
  [[nodiscard]] Differences compare(const TriMesh& ring,
                                    const std::vector<surface::TriangleTension>& found) const {
    double off_stress = 0;
    double stresses = 0;
    double off_angle = 0;
    double area = 0;
    for (std::size_t t = 0; t < found.size(); ++t) {
      Vec3 sum;
      for (const VertexIndex v : ring.triangles[t]) sum += ring.points[v];
      const Vec2 middle{sum.x / 3, sum.y / 3};
      const double share = length(area_vector(ring, ring.triangles[t])) / 2;
      const double r = length(middle);
      off_stress += share * std::pow(found[t].tension - stress(r), 2);
      stresses += share * std::pow(stress(r), 2);
      // Turned one way, all lines of tension lean the same way.
      const Vec2 d = found[t].direction;
      const double lean = std::asin(cross(middle, d) / r) * (dot(middle, d) < 0 ? -1 : 1);
      off_angle += share * std::pow(lean - std::copysign(std::asin(sine(r)), -twist), 2);
      area += share;
    }
    return {std::sqrt(off_stress / stresses), std::sqrt(off_angle / area)};
  }
};

}  // namespace film::test
