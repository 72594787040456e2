#pragma once

#include <cmath>
#include <string>

#include "base/rng.h"
#include "base/text.h"
#include "figure.h"
#include "support/annulus.h"
#include "support/membrane.h"
#include "surface/flatten.h"
#include "surface/tension.h"

/// Measures the mechanics of laid film against closed forms and other solvers.
namespace film::bench {

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
