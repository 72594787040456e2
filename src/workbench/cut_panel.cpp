#include "workbench/cut_panel.h"

#include <map>
#include <tuple>
#include <utility>

#include "base/text.h"
#include "formats/mesh.h"
#include "pattern/allowance.h"
#include "surface/clean.h"
#include "workbench/flatten_mesh.h"

namespace film::workbench {
namespace {

using pattern::EdgeKind;
using surface::Boundary;

TriMesh welded(const TriMesh& scan) {
  std::map<std::tuple<double, double, double>, VertexIndex> places;
  std::vector<VertexIndex> number;
  TriMesh mesh;
  for (const Vec3& p : scan.points) {
    const auto next = static_cast<VertexIndex>(mesh.points.size());
    const auto [place, fresh] = places.try_emplace({p.x, p.y, p.z}, next);
    if (fresh) mesh.points.push_back(p);
    number.push_back(place->second);
  }
  for (const Triangle& t : scan.triangles) {
    const Triangle corners{number[t[0]], number[t[1]], number[t[2]]};
    if (corners[0] == corners[1] || corners[1] == corners[2] || corners[2] == corners[0]) continue;
    mesh.triangles.push_back(corners);
  }
  return mesh;
}

/// What a run is called, before its number, and what it is.
std::pair<const char*, EdgeKind> meaning_of(const surface::BoundaryRun& run,
                                            const PanelRequest& request) {
  switch (run.boundary) {
    case Boundary::drawn:
      return {"leg", run.leg < request.legs.size() ? request.legs[run.leg] : EdgeKind::gap};
    case Boundary::crease:
      return run.turns_away ? std::pair("hem", EdgeKind::hem) : std::pair("crease", EdgeKind::gap);
    case Boundary::rim:
      return run.of_opening ? std::pair("opening", EdgeKind::cutout)
                            : std::pair("rim", EdgeKind::gap);
  }
  return {"", EdgeKind::gap};
}

}  // namespace

Result<ScannedPanel> cut_panel(const TriMesh& scan, const PanelRequest& request,
                               const Context& context) {
  auto cut = surface::cut_out(welded(scan), request.cut, context);
  if (!cut) return Failure(cut.error());
  ScannedPanel panel{std::move(*cut), {}};
  std::map<std::string, std::size_t> numbers;
  for (const surface::BoundaryRun& run : panel.cut.boundary) {
    const auto [word, kind] = meaning_of(run, request);
    std::string name = run.boundary == Boundary::drawn ? format("leg {}", run.leg + 1)
                                                       : format("{} {}", word, ++numbers[word]);
    // A leg that the boundary follows in several runs is numbered again.
    if (run.boundary == Boundary::drawn && ++numbers[name] > 1) {
      name = format("{} part {}", name, numbers[name]);
    }
    panel.edges.push_back({std::move(name), kind, run.path});
  }
  return panel;
}

std::string panel_mesh(const ScannedPanel& panel) {
  return formats::write_obj(panel.cut.panel, {}, formats::MeshUnit::mm);
}

Result<pattern::Piece> panel_piece(const ScannedPanel& panel, const std::string& id,
                                   const Context& context) {
  const auto flat = flatten_mesh(panel.cut.panel, {}, context);
  if (!flat) return Failure(flat.error());
  std::vector<pattern::BoundaryPath> paths;
  for (const pattern::BoundaryPath& edge : panel.edges) {
    pattern::BoundaryPath path{edge.name, edge.kind, {}};
    for (const VertexIndex v : edge.path) {
      const VertexIndex kept = flat->clean.vertex_of_source[v];
      const bool repeated = !path.path.empty() && path.path.back() == kept;
      if (kept != surface::CleanMesh::kDropped && !repeated) path.path.push_back(kept);
    }
    if (path.path.size() > 1) paths.push_back(std::move(path));
  }
  auto piece = pattern::piece_from_surface(flat->clean.mesh, flat->flattening.flat, paths);
  if (!piece) return piece;
  piece->id = piece->name = id;
  return pattern::extend(std::move(*piece), {}, context);
}

}  // namespace film::workbench
