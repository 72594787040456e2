// Random small meshes, mostly near a sheet, through cleaning (smoothing and taking triangles out
// included), flattening in every mode, settling, strain and method.
#include <cstddef>
#include <cstdint>

#include "base/assert.h"
#include "random_mesh.h"
#include "surface/clean.h"
#include "surface/flatten.h"
#include "surface/method.h"
#include "surface/tension.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace film;
  fuzz::Source source(data, size);
  const auto mode = static_cast<surface::Mode>(source.byte() % 4);
  const TriMesh mesh = fuzz::torn_sheet(source);
  surface::CleanOptions cleaning;
  const std::uint8_t wishes = source.byte();
  if (wishes % 2 == 1) cleaning.pin_hole_perimeter = Mm{450};
  if (wishes % 4 >= 2) cleaning.denoise_within = Mm{5};
  if (wishes % 8 >= 4) cleaning.decimate_within = Mm{10};
  const auto clean = surface::clean(mesh, cleaning, {});
  if (!clean) return 0;
  FILM_ASSERT(clean->error.value <= 15 * (1 + 1e-9));
  surface::FlattenOptions options;
  options.mode = mode;
  options.greatest_iterations = 40;
  const auto flat = surface::flatten(clean->mesh, options, {});
  if (!flat) return 0;
  FILM_ASSERT(flat->flips == 0 && flat->boundary_crossings == 0);
  FILM_ASSERT(flat->stretch.min > 0 && flat->sd_mean >= 4 - 1e-9);
  const auto strain = surface::report_strain(clean->mesh, flat->flat, options.film);
  const auto field = surface::settle(clean->mesh, flat->flat, options.film, {}, {});
  FILM_ASSERT(field && surface::measure(clean->mesh, field->settled).flips == 0);
  FILM_ASSERT(
      !surface::report_strain(clean->mesh, flat->flat, options.film, *field).verdict.empty());
  const auto reach = surface::reach(flat->flat, options.film, {});
  FILM_ASSERT(!surface::choose_method(clean->mesh, strain, reach, options.film).reasons.empty());
  return 0;
}
