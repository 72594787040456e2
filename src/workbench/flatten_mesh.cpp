#include "workbench/flatten_mesh.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <unordered_set>
#include <utility>

#include "base/text.h"
#include "exchange/piece_json.h"
#include "formats/dxf.h"
#include "formats/mesh.h"
#include "formats/svg.h"
#include "pattern/from_surface.h"

namespace film::workbench {
namespace {

/// A side to side difference of up to this share of the width is still "evenly on both sides".
constexpr double kEven = 0.02;

Result<formats::MeshUnit> mesh_unit(std::string_view word) {
  if (word == "m") return formats::MeshUnit::m;
  if (word == "mm") return formats::MeshUnit::mm;
  if (word == "in") return formats::MeshUnit::in;
  return fail(ErrorCode::invalid_input, format("the unit \"{}\" is not known", word), {},
              "Use m, mm or in");
}

/// How many boundary vertices lie exactly where another one does: the two lips of a cut.
std::size_t doubled_boundary_vertices(const TriMesh& mesh) {
  std::vector<Vec3> places;
  for (const auto& loop : boundary_loops(mesh)) {
    for (const VertexIndex v : loop) places.push_back(mesh.points[v]);
  }
  const auto less = [](Vec3 a, Vec3 b) {
    return a.x != b.x ? a.x < b.x : a.y != b.y ? a.y < b.y : a.z < b.z;
  };
  std::sort(places.begin(), places.end(), less);
  std::size_t doubled = 0;
  for (std::size_t i = 1; i < places.size(); ++i) doubled += places[i] == places[i - 1] ? 1u : 0u;
  return doubled;
}

std::vector<std::string> warnings_of(const FlatPanel& panel, const surface::FilmProperties& film) {
  std::vector<std::string> warnings;
  const TriMesh& mesh = panel.clean.mesh;
  if (const std::size_t doubled = doubled_boundary_vertices(mesh); doubled > 0) {
    warnings.push_back(
        format("{} boundary vertices lie in pairs at the same place: taken for the lips of a cut",
               doubled));
  }
  if (panel.strain.peak_stretch > 1 + film.mark_limit) {
    warnings.push_back(format(
        "no flat piece of this film covers the surface: the stretch reaches {:.0f} %; cut the "
        "surface into parts or add relief cuts",
        100 * (panel.strain.peak_stretch - 1)));
  }
  return warnings;
}

}  // namespace

std::optional<Vec3> usual_grain(const TriMesh& surface) {
  if (surface.points.empty()) return std::nullopt;
  Vec3 low = surface.points[0];
  Vec3 high = low;
  for (const Vec3& p : surface.points) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), 0};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), 0};
  }
  const auto even = [](double a, double b) { return std::abs(a + b) <= kEven * (b - a); };
  const bool straddles_x = even(low.x, high.x);
  const bool straddles_y = even(low.y, high.y);
  if (straddles_x == straddles_y) return std::nullopt;
  return straddles_x ? Vec3{0, 1, 0} : Vec3{1, 0, 0};
}

Result<FlatPanel> flatten_mesh(const TriMesh& surface, const FlattenRequest& request,
                               const Context& context) {
  FlatPanel panel;
  context.report("cleaning the mesh", -1);
  auto clean = surface::clean(surface, request.clean, context);
  if (!clean) return Failure(clean.error());
  panel.clean = std::move(*clean);
  const TriMesh& mesh = panel.clean.mesh;
  surface::FlattenOptions options = request.flatten;
  if (!options.grain) options.grain = usual_grain(mesh);
  auto flattening = surface::flatten(mesh, options, context);
  if (!flattening) return Failure(flattening.error());
  panel.flattening = std::move(*flattening);
  panel.strain = surface::report_strain(mesh, panel.flattening.flat, options.film);
  panel.reach = surface::reach(panel.flattening.flat, options.film, request.reach);
  if (options.mode != surface::Mode::least_energy) {
    panel.laying.method = surface::choose_method(mesh, panel.strain, panel.reach, options.film);
  } else {
    const auto strains = surface::triangle_strains(mesh, panel.flattening.flat);
    surface::LayingOptions laying;
    laying.reach = request.reach;
    laying.bulk.roll_width = request.reach.roll_width;
    auto planned = surface::plan_laying(mesh, panel.flattening.flat, strains, panel.strain,
                                        panel.reach, options.film, laying, context);
    if (!planned) return Failure(planned.error());
    panel.laying = std::move(*planned);
    auto field = surface::settle(mesh, panel.flattening.flat, options.film, {}, context);
    if (!field) return Failure(field.error());
    panel.strain = surface::report_strain(mesh, panel.flattening.flat, options.film, *field);
    panel.tension = std::move(*field);
  }
  panel.warnings = warnings_of(panel, options.film);
  return panel;
}

Result<TriMesh> read_surface(std::string_view bytes, std::string_view file_name,
                             std::string_view unit) {
  const auto kind = formats::mesh_format_of(file_name);
  if (!kind) return Failure(kind.error());
  const auto known_unit = mesh_unit(unit);
  if (!known_unit) return Failure(known_unit.error());
  auto mesh = formats::read_mesh(bytes, *kind, *known_unit);
  if (mesh) return mesh;
  Error error = mesh.error();
  error.where =
      error.where.empty() ? std::string(file_name) : format("{} {}", file_name, error.where);
  return Failure(std::move(error));
}

Result<std::string> obj_with_flat(const FlatPanel& panel, std::string_view unit) {
  const auto known_unit = mesh_unit(unit);
  if (!known_unit) return Failure(known_unit.error());
  return formats::write_obj(panel.clean.mesh, panel.flattening.flat, *known_unit);
}

Result<std::string> flat_piece(const FlatPanel& panel, std::string_view piece_id,
                               std::string_view file_name) {
  auto piece = pattern::piece_from_surface(panel.clean.mesh, panel.flattening.flat);
  if (!piece) return Failure(piece.error());
  piece->id = piece->name = std::string(piece_id);
  if (file_name.ends_with(".json")) return exchange::write_pieces({*piece});
  const formats::Drawing drawing{piece->id, {{"fold", {}, {piece->fold}, {}, {}}}, std::nullopt};
  if (file_name.ends_with(".svg")) return formats::write_svg(drawing);
  if (file_name.ends_with(".dxf")) return formats::write_dxf(drawing);
  return fail(ErrorCode::unsupported, "the kind of piece file is not known", std::string(file_name),
              "Use .svg, .dxf or .json");
}

}  // namespace film::workbench
