// Any bytes through the mesh reader, cleaning and flattening: an answer without folds or an error.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/assert.h"
#include "formats/mesh.h"
#include "surface/clean.h"
#include "surface/flatten.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace film;
  if (size < 1) return 0;
  const auto kind = data[0] % 8 < 6    ? formats::MeshFormat::obj
                    : data[0] % 8 == 6 ? formats::MeshFormat::stl
                                       : formats::MeshFormat::ply;
  const std::string_view bytes(reinterpret_cast<const char*>(data + 1), size - 1);
  const auto mesh = formats::read_mesh(bytes, kind, formats::MeshUnit::mm);
  if (!mesh || mesh->triangles.size() > 300) return 0;
  surface::CleanOptions options;
  options.least_extent = Mm{1e-6};
  options.greatest_extent = Mm{1e12};
  const auto clean = surface::clean(*mesh, options, {});
  if (!clean) return 0;
  surface::FlattenOptions flatten;
  flatten.greatest_iterations = 30;
  const auto flat = surface::flatten(clean->mesh, flatten, {});
  if (flat) FILM_ASSERT(flat->flips == 0 && flat->boundary_crossings == 0);
  return 0;
}
