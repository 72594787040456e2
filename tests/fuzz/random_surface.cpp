// Random small meshes, mostly near a sheet, through cleaning (smoothing and taking triangles out
// included), flattening in every mode, settling, strain and method.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>

#include "base/assert.h"
#include "surface/clean.h"
#include "surface/flatten.h"
#include "surface/method.h"
#include "surface/tension.h"

namespace {

/// Takes numbers from the fuzzer's bytes; zeros when they have run out.
class Source {
 public:
  Source(const std::uint8_t* data, std::size_t size) : data_(data), size_(size) {}
  std::uint8_t byte() { return at_ < size_ ? data_[at_++] : std::uint8_t{0}; }
  double offset() { return static_cast<double>(static_cast<std::int8_t>(byte())); }

 private:
  const std::uint8_t* data_;
  std::size_t size_;
  std::size_t at_ = 0;
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace film;
  Source source(data, size);
  const auto mode = static_cast<surface::Mode>(source.byte() % 4);
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
