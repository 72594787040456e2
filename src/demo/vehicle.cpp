#include "demo/vehicle.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/assert.h"
#include "demo/detail/design.h"
#include "demo/detail/scan.h"

namespace film::demo {
namespace {

using shop::BoundaryStretch;
using shop::Panel;

bool is_left(const PanelDesign& design) { return design.id.ends_with("_left"); }

Chart seen_along_mean_normal(const std::vector<Vec3>& loop) {
  Vec3 normal;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    normal += cross(loop[i] - loop[0], loop[(i + 1) % loop.size()] - loop[0]);
  }
  return view_along(normal);
}

double perimeter(const std::vector<Vec3>& loop) {
  double sum = 0;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    sum += distance(loop[i], loop[(i + 1) % loop.size()]);
  }
  return sum;
}

/// Names of stretches with the same cut are told apart by where they lie.
void name_apart(std::vector<BoundaryStretch>& edges, const TriMesh& mesh) {
  std::map<std::string, int> count, seen;
  for (const auto& edge : edges) ++count[edge.name];
  for (auto& edge : edges) {
    if (count[edge.name] < 2) continue;
    const double y = mesh.points[edge.path[edge.path.size() / 2]].y;
    const std::string name = edge.name;
    edge.name += count[name] == 2 && std::fabs(y) > 1 && seen[name] == 0
                     ? (y > 0 ? " left" : " right")
                     : " " + std::to_string(seen[name] + 1);
    ++seen[name];
  }
}

void add_edges(std::vector<BoundaryStretch>& edges, const TracedLoop& loop,
               const std::vector<Cut>& cuts, VertexIndex base) {
  const std::size_t n = loop.points.size();
  for (std::size_t k = 0; k < loop.first.size(); ++k) {
    const std::size_t end = k + 1 < loop.first.size() ? loop.first[k + 1] : n;
    BoundaryStretch edge{cuts[loop.cut[k]].name, cuts[loop.cut[k]].kind, {}};
    for (std::size_t i = loop.first[k]; i <= end; ++i) {
      edge.path.push_back(base + static_cast<VertexIndex>(i % n));
    }
    edges.push_back(std::move(edge));
  }
}

/// A stream of random numbers for each panel, so that one panel's shape does not change another's
/// noise. Source of the hash: FNV-1a, G. Fowler, L. C. Noll, K.-P. Vo (constants from memory).
Rng rng_for(const std::string& id, std::uint64_t seed) {
  std::uint64_t hash = 14695981039346656037u;
  for (char c : id) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211u;
  return Rng(hash ^ seed);
}

Panel made(const PanelDesign& design, const VehicleOptions& options) {
  Panel panel{design.id,
              design.name,
              design.zone,
              is_left(design) ? shop::Side::left : shop::Side::centre,
              design.finish,
              {},
              design.sensor,
              design.badge,
              {},
              {},
              {}};
  const TracedLoop fine = trace(design.skin, design.cuts, design.inside, {4, design.corner});
  FILM_ASSERT(!fine.points.empty());
  const ThinOptions thin{std::clamp(perimeter(fine.points) / 50, 5.0, options.edge.value)};
  const TracedLoop outer = thinned(design.skin, fine, thin);
  std::vector<std::vector<Vec3>> loops{outer.points};
  add_edges(panel.edges, outer, design.cuts, 0);
  std::size_t base = outer.points.size();
  for (const Cut& opening : design.openings) {
    FILM_ASSERT(opening.side(design.inside) > 0);
    const std::vector<Cut> cut{opening};
    const TracedLoop hole =
        thinned(design.skin, trace(design.skin, cut, design.inside, {2, 0}), thin);
    FILM_ASSERT(!hole.points.empty());
    add_edges(panel.edges, hole, cut, static_cast<VertexIndex>(base));
    loops.push_back(hole.points);
    base += hole.points.size();
  }
  const Chart chart = design.chart ? *design.chart : seen_along_mean_normal(outer.points);
  panel.surface = triangulated(design.skin, loops, chart,
                               {thin.edge, options.chord.value, 0.3, design.least_edge});
  name_apart(panel.edges, panel.surface);
  if (options.scan) {
    Rng rng = rng_for(design.id, options.scan->seed);
    roughen(panel.surface, *options.scan, rng);
  }
  return panel;
}

Panel mirrored(const Panel& left) {
  Panel right = left;
  right.id = left.id.substr(0, left.id.size() - 4) + "right";
  right.side = shop::Side::right;
  if (right.zone == "left") right.zone = "right";
  right.twin_of = left.id;
  for (Vec3& p : right.surface.points) p.y = -p.y;
  for (Triangle& t : right.surface.triangles) std::swap(t[1], t[2]);
  std::reverse(right.edges.begin(), right.edges.end());
  for (auto& edge : right.edges) std::reverse(edge.path.begin(), edge.path.end());
  return right;
}

}  // namespace

shop::VehicleModel make_vehicle(const VehicleOptions& options) {
  shop::VehicleModel model;
  model.id = "estate";
  model.name = "Large estate";
  model.scenery = make_scenery();
  for (const PanelDesign& design : panel_designs()) {
    Panel panel = made(design, options);
    panel.name += is_left(design) ? " left" : "";
    model.panels.push_back(panel);
    if (is_left(design)) {
      Panel right = mirrored(panel);
      right.name = design.name + " right";
      model.panels.push_back(std::move(right));
    }
  }
  return model;
}

}  // namespace film::demo
