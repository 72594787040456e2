// Random panels through least-energy flattening and seams: the parts make up the panel, and a plan
// that says the panel is covered means it.
#include <cmath>
#include <cstddef>
#include <cstdint>

#include "base/assert.h"
#include "random_mesh.h"
#include "surface/clean.h"
#include "surface/flatten.h"
#include "surface/seam.h"

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
  const auto flat = surface::flatten(clean->mesh, flatten, {});
  if (!flat) return 0;
  surface::SeamOptions options;
  options.reach.roll_width = Mm{50 + 10.0 * source.byte()};
  options.reach.margin = Mm{source.share() * 30};
  options.reach.turning = static_cast<surface::Turning>(source.byte() % 3);
  options.overlap = Mm{source.share() * 20};
  options.greatest_seams = source.byte() % 6;
  options.greatest_over_share = source.share() * 0.2;
  if (wishes % 8 >= 4) {
    for (std::size_t v = 0; v < clean->mesh.points.size(); ++v) {
      options.visibility.push_back(0.05 + 0.95 * source.share());
    }
  }
  const auto plan = surface::plan_seams(clean->mesh, flat->flat, flatten.film, options, {});
  FILM_ASSERT(plan);
  FILM_ASSERT(plan->seams.size() <= options.greatest_seams && !plan->words.empty());
  FILM_ASSERT(plan->parts.size() > plan->seams.size());
  double area = 0;
  for (const surface::SeamPart& part : plan->parts) {
    FILM_ASSERT(part.area > 0 && part.least_stretch > 0 && std::isfinite(part.peak_stretch));
    FILM_ASSERT(!plan->covered ||
                (part.reach.fits && part.over_share <= options.greatest_over_share));
    area += part.area;
  }
  const double whole = surface_area(clean->mesh);
  FILM_ASSERT(std::abs(area - whole) <= 1e-6 * whole);
  for (const surface::Seam& seam : plan->seams) {
    FILM_ASSERT(seam.on_panel.size() >= 2 && seam.on_panel.size() == seam.on_film.size());
    FILM_ASSERT(seam.length.value > 0 && !seam.words.empty());
  }
  return 0;
}
