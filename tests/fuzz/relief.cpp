// Random panels through least-energy flattening and relief cuts: each cut pays, the film it leaves
// has no fold and meets itself nowhere, and what is told of the cuts adds up.
#include "surface/relief.h"

#include <cmath>
#include <cstddef>
#include <cstdint>

#include "base/assert.h"
#include "random_mesh.h"
#include "surface/clean.h"
#include "surface/flatten.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace film;
  fuzz::Source source(data, size);
  const std::uint8_t wishes = source.byte();
  const TriMesh mesh = wishes % 4 == 3 ? fuzz::torn_sheet(source) : fuzz::curved_panel(source);
  const auto clean = surface::clean(mesh, {}, {});
  if (!clean) return 0;
  surface::FlattenOptions flatten;
  flatten.mode = surface::Mode::least_energy;
  flatten.greatest_iterations = 60;
  flatten.film.squeeze_cost = 1 + source.byte();
  flatten.film.stiffness_ratio = 1 + source.share();
  const auto flat = surface::flatten(clean->mesh, flatten, {});
  if (!flat) return 0;
  surface::ReliefOptions options;
  options.greatest_cuts = 1 + source.byte() % 4;
  options.least_gain = Mm{2 * source.share()};
  options.trials = 1 + source.byte() % 12;
  if (wishes % 8 >= 4) {
    for (std::size_t v = 0; v < clean->mesh.points.size(); ++v) {
      options.visibility.push_back(0.05 + 0.95 * source.share());
    }
  }
  const auto relieved = surface::plan_relief(clean->mesh, flat->flat, flatten.film, options, {});
  FILM_ASSERT(relieved);
  const surface::Relief& plan = relieved->plan;
  FILM_ASSERT(plan.cuts.size() <= options.greatest_cuts && !plan.words.empty());
  FILM_ASSERT(relieved->flattening.flips == 0 && relieved->flattening.boundary_crossings == 0);
  FILM_ASSERT(relieved->flattening.flat.size() == relieved->surface.points.size());
  double taken = 0;
  for (const surface::ReliefCut& cut : plan.cuts) {
    FILM_ASSERT(cut.on_panel.size() >= 2 && cut.on_panel.size() == cut.on_film.size());
    FILM_ASSERT(cut.length.value > 0 && cut.visibility > 0 && std::isfinite(cut.opening.value));
    FILM_ASSERT(cut.surplus >=
                options.least_gain.value * cut.length.value * cut.visibility * (1 - 1e-9));
    taken += cut.surplus;
  }
  FILM_ASSERT(std::abs(plan.surplus_before - plan.surplus_after - taken) <=
              1e-6 * (1 + plan.surplus_before));
  const double area = surface_area(clean->mesh);
  FILM_ASSERT(std::abs(surface_area(relieved->surface) - area) <= 1e-6 * area);
  return 0;
}
