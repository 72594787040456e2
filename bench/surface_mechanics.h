#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include "base/rng.h"
#include "base/text.h"
#include "figure.h"
#include "support/annulus.h"
#include "support/membrane.h"
#include "surface/decimate.h"
#include "surface/denoise.h"
#include "surface/flatten.h"
#include "surface/tension.h"

/// Measures the mechanics of laid film against closed forms and other solvers.
namespace film::bench {

/// No flat shape has a smaller largest |stretch - 1| than this: at an inner vertex the angles must
/// change by the angle that the surface lacks there, and an angle a changes by at most
/// 2 e sin(a) when no stretch differs from 1 by more than a small e.
inline double least_strain_by_angles(const TriMesh& mesh) {
  std::vector<long double> lack(mesh.points.size(), 2 * std::numbers::pi_v<long double>);
  std::vector<long double> sines(mesh.points.size(), 0);
  for (const Triangle& t : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3 a = mesh.points[t[(k + 1) % 3]] - mesh.points[t[k]];
      const Vec3 b = mesh.points[t[(k + 2) % 3]] - mesh.points[t[k]];
      const long double angle = std::atan2(static_cast<long double>(length(cross(a, b))),
                                           static_cast<long double>(dot(a, b)));
      lack[t[k]] -= angle;
      sines[t[k]] += std::sin(angle);
    }
  }
  for (const auto& loop : boundary_loops(mesh)) {
    for (const VertexIndex v : loop) lack[v] = 0;
  }
  long double most = 0;
  for (std::size_t v = 0; v < lack.size(); ++v) {
    if (sines[v] > 0) most = std::max(most, std::abs(lack[v]) / (2 * sines[v]));
  }
  return static_cast<double>(most);
}

inline void cleaning() {
  const TriMesh fine = test::hood(1400, 1100, 60, 120, 1, 224, 224);
  const auto thinned = surface::decimate(fine, Mm{0.1}, {});
  say(format("hood-like panel, {} triangles thinned within 0.1 mm: triangles left, proved distance",
             fine.triangles.size()),
      thinned ? format("{}, {:.4f} mm", thinned->mesh.triangles.size(), thinned->error.value)
              : "failed",
      "at most 0.1 mm both ways", "exact search over both surfaces, geometry/mesh_distance.h",
      thinned && thinned->error.value <= 0.1);
  TriMesh rough = test::cylinder(400, 1, 300, 80, 60);
  Rng rng(7);
  const auto noise = [&rng] { return rng.uniform(-0.05, 0.05); };
  for (Vec3& p : rough.points) p += Vec3{noise(), noise(), noise()};
  const TriMesh smooth = surface::denoise(rough, Mm{0.1});
  const auto off = [](const TriMesh& mesh) {
    double square = 0;
    for (const Vec3& p : mesh.points) square += std::pow(std::hypot(p.x, p.z) - 400, 2);
    return std::sqrt(square / static_cast<double>(mesh.points.size()));
  };
  const auto strain = [](const TriMesh& mesh) {
    const auto flat = surface::flatten(mesh, {}, {});
    return flat ? flat->sd_mean - 4 : 1;
  };
  double moved = 0;
  for (std::size_t v = 0; v < rough.points.size(); ++v) {
    moved = std::max(moved, distance(rough.points[v], smooth.points[v]));
  }
  say("cylinder with 0.05 mm of noise, smoothed within 0.1 mm: off the cylinder before and after, "
      "farthest move",
      format("{:.4f}, {:.4f}, {:.4f} mm", off(rough), off(smooth), moved), "no move over 0.1 mm",
      "radius of the cylinder", moved <= 0.1);
  say("the same, distortion of the flat piece (mean symmetric Dirichlet less 4) before and after",
      format("{:.1e}, {:.1e}", strain(rough), strain(smooth)), "", "a cylinder has none",
      std::nullopt);
}

inline void twisted_ring() {
  const test::TwistedRing ring;
  const TriMesh mesh = ring.mesh(240, 32);
  surface::FilmProperties film;
  film.contraction = 0;
  surface::TensionOptions options;
  options.folding_cost = 1e-5;
  const auto field = surface::settle(mesh, ring.film(mesh), film, options, {});
  const std::string name =
      format("ring twisted in its plane, {} triangles: ", mesh.triangles.size());
  const std::string source =
      "tension field, Reissner 1938, Mansfield 1970 (docs/algorithms/surface.md)";
  if (!field) return say(name + "tension field", "failed", "within 2 %", source, false);
  // The torque is twice the energy over the twist.
  const double torque = field->energy / ring.energy();
  const auto off = ring.compare(mesh, field->triangles);
  say(name + "torque over the closed form", format("{:.4f}", torque), "1 within 2 %", source,
      std::abs(torque - 1) <= 0.02);
  say(name + "stress, root mean square difference", format("{:.2f} %", 100 * off.stress),
      "at most 2 %", source, off.stress <= 0.02);
  say(name + "direction of the folds, root mean square difference",
      format("{:.4f} rad", off.direction), "at most 0.02 rad", source, off.direction <= 0.02);
}

inline void finite_elements() {
  for (const test::PanelCase& panel : test::panel_cases(48)) {
    surface::FlattenOptions options;
    options.mode = surface::Mode::least_energy;
    options.film = test::film_with_grain();
    const auto flat = surface::flatten(panel.mesh, options, {});
    double off = 1;
    if (flat) {
      test::MembraneSolve solve(panel.smooth, options.film, flat->flat, panel.parameters,
                                panel.mesh.triangles);
      Rng rng(3);
      solve.disturb(0.1, rng);
      if (solve.solve()) off = test::strain_difference(solve, panel.mesh, flat->flat);
    }
    say(format("laid film, {}, {} triangles: difference of strain from finite elements", panel.name,
               panel.mesh.triangles.size()),
        format("{:.2f} %", 100 * off), "at most 2 %",
        "quadratic elements on the smooth surface, tests/support/membrane.h", off <= 0.02);
  }
}

}  // namespace film::bench
