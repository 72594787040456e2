// Measures what docs/evidence.md says of pieces: the allowance kernel against exact answers, a
// general polygon library and a point-by-point oracle; the demo vehicle's pieces end to end.

#include <chrono>
#include <cmath>
#include <cstdio>
#include <functional>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>
#include <polyclipping/clipper.hpp>

#include "../tests/support/random_outlines.h"
#include "base/text.h"
#include "demo/vehicle.h"
#include "exchange/piece_json.h"
#include "host/thread_executor.h"
#include "pattern/allowance.h"
#include "pattern/edges.h"
#include "pattern/from_surface.h"
#include "pattern/simplify.h"
#include "pattern/twin.h"
#include "surface/clean.h"
#include "surface/flatten.h"

namespace film {
namespace {

using pattern::Corner;
using pattern::Piece;

constexpr double kPi = std::numbers::pi;

void say(const std::string& figure, const std::string& value, const std::string& target,
         const std::string& source, std::optional<bool> met) {
  const nlohmann::ordered_json row{{"figure", figure},
                                   {"value", value},
                                   {"target", target},
                                   {"source", source},
                                   {"met", met ? nlohmann::ordered_json(*met) : nullptr}};
  std::puts(row.dump().c_str());
  std::fflush(stdout);
}

double seconds_of(const std::function<void()>& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

Ring regular(int corners, double radius) {
  Ring ring;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * kPi * i / corners;
    ring.push_back({radius * std::cos(angle), radius * std::sin(angle)});
  }
  return ring;
}

Piece uniform(Polygon fold, double allowance, Corner corner) {
  Piece piece;
  piece.id = "sample";
  piece.fold = std::move(fold);
  for (std::size_t r = 0; r <= piece.fold.holes.size(); ++r) {
    piece.edges.push_back({std::to_string(r), pattern::EdgeKind::gap, r, 0, Mm{allowance}, corner});
  }
  return piece;
}

double distance_to_nearest(const Ring& ring, Vec2 p) {
  double nearest = 1e300;
  for (const Vec2 q : ring) nearest = std::min(nearest, distance(p, q));
  return nearest;
}

// ---- exact answers

void exact_answers() {
  pattern::ExtendOptions options;
  options.chord_tolerance = Mm{1e-6};
  options.mitre_limit = 10;
  options.relief.wanted = false;
  double worst = 0;
  for (const int n : {3, 4, 5, 6, 8, 12, 24, 60, 360, 3600}) {
    for (const double d : {6.35, 1.0, -4.0}) {
      options.within = Corner::closed;
      const Piece mitred =
          *pattern::extend(uniform({regular(n, 100), {}}, d, Corner::closed), options);
      const Ring expected = regular(n, 100 + d / std::cos(kPi / n));
      for (const Vec2 p : expected) {
        worst = std::max(worst, distance_to_nearest(mitred.cut.outer, p));
      }
      if (d < 0) continue;
      options.within = Corner::round;
      const Polygon fold{regular(n, 100), {}};
      const Piece rounded = *pattern::extend(uniform(fold, d, Corner::round), options);
      for (const Vec2 p : rounded.cut.outer) {
        const double away = support::distance_to_outline(fold, p);
        // A bend so slight that its mitre lies within the chord tolerance keeps the mitre.
        worst = std::max(worst, std::max(0.0, std::abs(away - d) -
                                                  (n > 360 ? options.chord_tolerance.value : 0)));
      }
    }
  }
  Piece rectangle =
      uniform(*make_polygon({{0, 0}, {200, 0}, {200, 100}, {0, 100}}), 0, Corner::closed);
  rectangle.edges.clear();
  const double allowances[] = {6, 3, 0, -2};
  for (std::size_t i = 0; i < 4; ++i) {
    rectangle.edges.push_back(
        {std::to_string(i), pattern::EdgeKind::gap, 0, i, Mm{allowances[i]}, Corner::closed});
  }
  const Piece grown = *pattern::extend(rectangle, options);
  for (const Vec2 p : {Vec2{2, -6}, Vec2{203, -6}, Vec2{203, 100}, Vec2{2, 100}}) {
    worst = std::max(worst, distance_to_nearest(grown.cut.outer, p));
  }
  say("allowance: worst distance from exact answers (rectangle, regular polygons, circles; mitred "
      "and round)",
      format("{:.1e} mm", worst), "at most 1e-6 mm", "plane geometry; Steiner's formula",
      worst <= 1e-6);
}

// ---- random regions

constexpr double kScale = 1e5;

ClipperLib::Path whole_numbers(const Ring& ring) {
  ClipperLib::Path path;
  for (const Vec2 p : ring) {
    path.emplace_back(std::llround(p.x * kScale), std::llround(p.y * kScale));
  }
  return path;
}

std::pair<double, int> offset_by_polyclipping(const Polygon& polygon, double by) {
  ClipperLib::ClipperOffset offset(2, 0.002 * kScale);
  offset.AddPath(whole_numbers(polygon.outer), ClipperLib::jtRound, ClipperLib::etClosedPolygon);
  for (const Ring& hole : polygon.holes) {
    offset.AddPath(whole_numbers(hole), ClipperLib::jtRound, ClipperLib::etClosedPolygon);
  }
  ClipperLib::Paths paths;
  offset.Execute(paths, by * kScale);
  double area = 0;
  int outlines = 0;
  for (const auto& path : paths) {
    const double size = ClipperLib::Area(path) / kScale / kScale;
    area += size;
    if (size > 0.01) ++outlines;
  }
  return {area, outlines};
}

bool is_region(const Polygon& cut) {
  const auto checked = make_polygon(cut.outer, cut.holes);
  return checked && *checked == cut;
}

void random_regions() {
  pattern::ExtendOptions options;
  options.transition = Mm{0};
  options.chord_tolerance = Mm{0.002};
  options.relief.wanted = false;
  constexpr int kRounds = 10000;
  Rng rng(2024);
  double worst_area = 0;
  int invalid = 0;
  int disagree = 0;
  std::size_t judged = 0;
  std::size_t wrong = 0;
  for (int round = 0; round < kRounds; ++round) {
    const Polygon region = support::random_region(rng);
    const double d = rng.below(2) == 0 ? rng.uniform(0.5, 12) : -rng.uniform(0.2, 5);
    const auto even = pattern::extend(
        support::piece_with(region, [d](std::size_t, std::size_t) { return d; }), options);
    const auto [reference, outlines] = offset_by_polyclipping(region, d);
    if (!even) {
      disagree += outlines == 1 ? 1 : 0;
    } else {
      const double off = std::abs(area(even->cut) - reference) / reference;
      if (off > 1e-3)
        std::fprintf(stderr, "round %d d %f area %f reference %f holes %zu\n", round, d,
                     area(even->cut), reference, even->cut.holes.size());
      worst_area = std::max(worst_area, off);
      invalid += is_region(even->cut) ? 0 : 1;
    }
    const Piece each = support::piece_with(region, [&](std::size_t, std::size_t) {
      const std::size_t kind = rng.below(4);
      if (kind == 0) return 0.0;
      if (kind == 1 && round % 2 == 1) return -rng.uniform(0.2, 3);
      return rng.uniform(0.5, 12);
    });
    const auto extended = pattern::extend(each, options);
    if (!extended) continue;
    invalid += is_region(extended->cut) ? 0 : 1;
    const support::FilmOracle oracle(each);
    const Box box = bounding_box(extended->cut);
    for (int k = 0; k < 30; ++k) {
      const Vec2 q{rng.uniform(box.low.x - 5, box.high.x + 5),
                   rng.uniform(box.low.y - 5, box.high.y + 5)};
      if (support::distance_to_outline(extended->cut, q) < 0.03) continue;
      if (oracle.near_mixed_corner(q)) continue;
      ++judged;
      const bool inside = side_of(extended->cut, q) == Side::inside;
      wrong += inside == oracle.belongs(q) ? 0U : 1U;
    }
  }
  say(format("allowance: {} random regions with holes, even allowances: worst area difference",
             kRounds),
      format("{:.4f} %", 100 * worst_area), "at most 0.1 %", "polyclipping 6.4.2, round joins",
      worst_area <= 1e-3 && disagree == 0);
  say(format("allowance: the same regions, every edge its own allowance: points on the wrong side"),
      format("{} of {}", wrong, judged), "0", "point by point, tests/support/random_outlines.h",
      wrong == 0);
  say("allowance: results that cross or touch themselves", format("{} of {}", invalid, 2 * kRounds),
      "0", "exact predicates (make_polygon)", invalid == 0);
}

// ---- the demo vehicle

struct FlatPanel {
  std::string id;
  TriMesh mesh;
  std::vector<Vec2> flat;
  std::vector<pattern::BoundaryPath> edges;
};

std::vector<FlatPanel> flat_panels(const demo::VehicleOptions& options) {
  const shop::VehicleModel vehicle = demo::make_vehicle(options);
  std::vector<std::optional<FlatPanel>> made(vehicle.panels.size());
  host::ThreadExecutor executor(2);
  executor.run(vehicle.panels.size(), [&](std::size_t i) {
    const shop::Panel& panel = vehicle.panels[i];
    if (options.scan && i % 12 != 0) return;  // dense meshes take long to lay flat
    auto clean = surface::clean(panel.surface, {}, {});
    if (!clean) return;
    auto flat = surface::flatten(clean->mesh, {}, {});
    if (!flat) return;
    FlatPanel result{panel.id, std::move(clean->mesh), std::move(flat->flat), {}};
    for (const shop::BoundaryStretch& stretch : panel.edges) {
      std::vector<VertexIndex> path;
      for (const VertexIndex v : stretch.path) path.push_back(clean->vertex_of_source[v]);
      result.edges.push_back({stretch.name, stretch.kind, std::move(path)});
    }
    made[i] = std::move(result);
  });
  std::vector<FlatPanel> panels;
  for (auto& panel : made) {
    if (panel) panels.push_back(std::move(*panel));
  }
  return panels;
}

void demo_vehicle(const std::string& what, const demo::VehicleOptions& vehicle, double tolerance) {
  const std::vector<FlatPanel> panels = flat_panels(vehicle);
  std::vector<Piece> pieces;
  std::size_t before = 0;
  std::size_t after = 0;
  std::size_t failed = 0;
  double worst = 0;
  const auto make = [&] {
    for (const FlatPanel& panel : panels) {
      auto piece = pattern::piece_from_surface(panel.mesh, panel.flat, panel.edges);
      if (!piece) {
        std::fprintf(stderr, "%s: %s\n", panel.id.c_str(), piece.error().message().c_str());
        ++failed;
        continue;
      }
      piece->id = panel.id;
      auto thinned = pattern::simplify(*piece, Mm{tolerance});
      if (!thinned) {
        ++failed;
        continue;
      }
      before += thinned->nodes_before;
      after += thinned->nodes_after;
      worst = std::max(worst, thinned->worst_deviation);
      auto extended = pattern::extend(std::move(thinned->piece));
      if (!extended) {
        std::fprintf(stderr, "%s: %s\n", panel.id.c_str(), extended.error().message().c_str());
        ++failed;
        continue;
      }
      pieces.push_back(pattern::twin(*extended));
      pieces.push_back(std::move(*extended));
    }
  };
  const double making = seconds_of(make);
  std::string text;
  const double keeping = seconds_of([&] {
    text = exchange::write_pieces(pieces);
    if (!exchange::read_pieces(text)) ++failed;
  });
  say(format("demo vehicle ({}): {} panels to pieces: edges, simplify, extend, twin, written and "
             "read as JSON",
             what, panels.size()),
      format("{:.2f} s, {} failed", making + keeping, failed), "under 5 s, 0 failed",
      "wall clock, one thread, after flattening",
      vehicle.scan ? std::nullopt
                   : std::optional(making + keeping < 5 && failed == 0 && panels.size() >= 95));
  say(format("demo vehicle ({}): nodes before and after simplifying within {} mm", what, tolerance),
      format("{} to {} ({:.1f} to 1)", before, after,
             static_cast<double>(before) / static_cast<double>(after)),
      vehicle.scan ? "an order of magnitude on scans" : "reported", "count",
      vehicle.scan ? std::optional(before >= 10 * after) : std::nullopt);
  say(format("demo vehicle ({}): worst deviation of a simplified outline", what),
      format("{:.4f} mm", worst), format("at most {} mm", tolerance),
      "distance of every old node from the new line", worst <= tolerance);
}

}  // namespace
}  // namespace film

int main(int argc, char**) {
  film::exact_answers();
  if (argc == 1) film::random_regions();
  film::demo_vehicle("as designed", {}, 0.1);
  film::demo::VehicleOptions scan;
  scan.edge = film::Mm{8};
  scan.scan = film::demo::Scan{};
  film::demo_vehicle("some panels as scanned, 8 mm edges", scan, 0.2);
  return 0;
}
