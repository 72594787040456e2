// The strain of laid film against finite elements written apart (tests/support/membrane.h).
#include "support/membrane.h"

#include <gtest/gtest.h>

#include "base/rng.h"
#include "surface/flatten.h"

namespace film::surface {
namespace {

TEST(Membrane, LaidFilmHasTheStrainOfAFiniteElementSolve) {
  // Differences fall with the square of the triangles' size: cap 4.8, 2.4, 1.5 % with 12, 18, 24
  // rings.
  for (const test::PanelCase& panel : test::panel_cases(44)) {
    SCOPED_TRACE(panel.name);
    FlattenOptions options;
    options.mode = Mode::least_energy;
    options.film = test::film_with_grain();
    const auto flat = flatten(panel.mesh, options, {});
    ASSERT_TRUE(flat) << flat.error().message();
    test::MembraneSolve solve(panel.smooth, options.film, flat->flat, panel.parameters,
                              panel.mesh.triangles);
    Rng rng(3);
    solve.disturb(0.1, rng);
    EXPECT_GT(test::strain_difference(solve, panel.mesh, flat->flat), 0.5);
    EXPECT_TRUE(solve.solve());
    EXPECT_LT(test::strain_difference(solve, panel.mesh, flat->flat), 0.02);
  }
}

}  // namespace
}  // namespace film::surface
