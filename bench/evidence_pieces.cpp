// Measures what docs/evidence.md says of pieces: the allowance kernel against exact answers, a
// general polygon library and a point-by-point oracle; the demo vehicle's pieces end to end.

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <functional>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include <polyclipping/clipper.hpp>

#include "../tests/support/random_outlines.h"
#include "../tests/support/surfaces.h"
#include "base/text.h"
#include "demo/vehicle.h"
#include "exchange/library_file.h"
#include "exchange/piece_json.h"
#include "figure.h"
#include "geometry/curve_fit.h"
#include "geometry/simplify.h"
#include "host/thread_executor.h"
#include "pattern/allowance.h"
#include "pattern/edges.h"
#include "pattern/from_surface.h"
#include "pattern/simplify.h"
#include "pattern/twin.h"
#include "photo_evidence.h"
#include "surface/clean.h"
#include "surface/cut_out.h"
#include "surface/flatten.h"
#include "surface/geodesic.h"

namespace film {
namespace {

using bench::say;
using pattern::Corner;
using pattern::Piece;

constexpr double kPi = std::numbers::pi;

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
  constexpr int kRounds = 10'000;
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

std::vector<FlatPanel> flat_panels() {
  const shop::VehicleModel vehicle = demo::make_vehicle();
  std::vector<std::optional<FlatPanel>> made(vehicle.panels.size());
  host::ThreadExecutor executor(2);
  executor.run(vehicle.panels.size(), [&](std::size_t i) {
    const shop::Panel& panel = vehicle.panels[i];
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

void tell_failure(const std::string& id, const Error& error) {
  std::fprintf(stderr, "%s: %s\n", id.c_str(), error.message().c_str());
}

/// A ring as a scan would give it: a node every millimetre, each a little off.
Ring as_scanned(const Ring& ring, Rng& rng, double noise) {
  Ring scanned;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = ring[i];
    const Vec2 b = ring[(i + 1) % ring.size()];
    const double count = std::max(1.0, std::round(distance(a, b)));
    for (double k = 0; k < count; ++k) {
      const Vec2 off{rng.uniform(-noise, noise), rng.uniform(-noise, noise)};
      scanned.push_back(a + (k / count) * (b - a) + off);
    }
  }
  return scanned;
}

struct Tally {
  std::size_t before = 0, after = 0, failed = 0;
  double worst = 0;
};

/// Simplifies, extends and mirrors one piece.
void finish(const Piece& piece, Mm tolerance, Tally& tally, std::vector<Piece>& pieces) {
  auto thinned = pattern::simplify(piece, tolerance);
  auto extended = thinned ? pattern::extend(std::move(thinned->piece)) : Failure(thinned.error());
  if (!extended) {
    tell_failure(piece.id, extended.error());
    ++tally.failed;
    return;
  }
  tally.before += thinned->nodes_before;
  tally.after += thinned->nodes_after;
  tally.worst = std::max(tally.worst, thinned->worst_deviation);
  pieces.push_back(pattern::twin(*extended, {piece.id + "_twin", piece.id, ""}));
  pieces.push_back(std::move(*extended));
}

/// The scanned outlines as curves.
void curves_of(const std::vector<Piece>& scans, double tolerance) {
  std::size_t points = 0;
  std::size_t curves = 0;
  double worst = 0;
  double found = 0;
  for (const Piece& piece : scans) {
    std::vector<Ring> rings = piece.fold.holes;
    rings.push_back(piece.fold.outer);
    for (const Ring& ring : rings) {
      const CurveFit fit = fit_curves(ring, pattern::corners(ring), tolerance);
      points += ring.size();
      curves += fit.path.cubics.size();
      worst = std::max(worst, fit.worst);
      const Ring flat = flattened(fit.path, 1e-4);
      for (std::size_t i = 0; i < ring.size(); i += 31) {
        double nearest = 1e300;
        for (std::size_t k = 0; k < flat.size(); ++k) {
          nearest =
              std::min(nearest, distance_to_segment(ring[i], flat[k], flat[(k + 1) % flat.size()]));
        }
        found = std::max(found, nearest);
      }
    }
  }
  say("these scans as cubic curves within 0.1 mm: points before, curves after",
      format("{} to {} ({:.0f} to 1)", points, curves,
             static_cast<double>(points) / static_cast<double>(curves)),
      "10 to 1", "count", points >= 10 * curves);
  say("these scans as curves: worst deviation, of every 31st point by brute force",
      format("{:.4f} mm (told: {:.4f})", found, worst), "at most 0.1 mm",
      "distance from the curve in chords of 0.0001 mm",
      worst <= tolerance && found <= tolerance + 1e-4);
}

void demo_vehicle() {
  const std::vector<FlatPanel> panels = flat_panels();
  constexpr double kTolerance = 0.1;  // mm
  std::vector<Piece> bare;
  std::vector<Piece> pieces;
  Tally tally;
  const double designed = seconds_of([&] {
    for (const FlatPanel& panel : panels) {
      auto piece = pattern::piece_from_surface(panel.mesh, panel.flat, panel.edges);
      if (!piece) {
        tell_failure(panel.id, piece.error());
        ++tally.failed;
        continue;
      }
      piece->id = panel.id;
      bare.push_back(*piece);
      finish(*piece, Mm{kTolerance}, tally, pieces);
    }
    if (!exchange::read_pieces(exchange::write_pieces(pieces))) ++tally.failed;
  });
  say(format(
          "demo vehicle: {} flat panels to {} pieces: edges, simplify, extend, twin, written and "
          "read as JSON",
          panels.size(), pieces.size()),
      format("{:.2f} s, {} failed", designed, tally.failed), "under 5 s, 0 failed",
      "wall clock, one thread, after flattening", designed < 5 && tally.failed == 0);

  Tally scanned;
  std::vector<Piece> from_scans;
  Rng rng(7);
  std::vector<Piece> rough;
  for (const Piece& piece : bare) {
    std::vector<Ring> holes;
    for (const Ring& hole : piece.fold.holes) holes.push_back(as_scanned(hole, rng, 0.03));
    auto fold = make_polygon(as_scanned(piece.fold.outer, rng, 0.03), std::move(holes));
    if (fold) rough.push_back(pattern::piece_from_outline(piece.id, std::move(*fold)));
  }
  const double took = seconds_of([&] {
    for (const Piece& piece : rough) finish(piece, Mm{kTolerance}, scanned, from_scans);
  });
  say(format("the same outlines as scans (a node each mm, noise 0.03 mm): {} pieces", rough.size()),
      format("{:.2f} s, {} failed", took, scanned.failed), "under 5 s, 0 failed",
      "wall clock, one thread", took < 5 && scanned.failed == 0);
  say("nodes of these scans before and after simplifying within 0.1 mm",
      format("{} to {} ({:.1f} to 1)", scanned.before, scanned.after,
             static_cast<double>(scanned.before) / static_cast<double>(scanned.after)),
      "10 to 1", "count", scanned.before >= 10 * scanned.after);
  curves_of(rough, kTolerance);
  say("worst deviation of a simplified outline",
      format("{:.4f} mm", std::max(tally.worst, scanned.worst)), "at most 0.1 mm",
      "distance of every old node from the new line",
      std::max(tally.worst, scanned.worst) <= kTolerance);
}

// ---- the vehicle library

/// The demo vehicle with 100 prepared pieces, bare as they come from the surface.
exchange::VehicleLibrary library_of_100() {
  exchange::VehicleLibrary library{"estate", {{demo::make_vehicle(), shop::Standing::accepted}}};
  std::size_t left = 100;
  for (const FlatPanel& flat : flat_panels()) {
    auto piece = pattern::piece_from_surface(flat.mesh, flat.flat, flat.edges);
    if (!piece || left == 0) continue;
    piece->id = flat.id;
    for (shop::Panel& panel : library.versions[0].model.panels) {
      if (panel.id == flat.id) panel.pieces = {*piece};
    }
    --left;
  }
  return library;
}

void library_to_twins() {
  const std::string file = exchange::write_library(library_of_100());
  Tally tally;
  std::vector<Piece> finished;
  const double took = seconds_of([&] {
    const auto library = exchange::read_library(file);
    if (!library) {
      tell_failure("library", library.error());
      return;
    }
    for (const shop::Panel& panel : library->versions[0].model.panels) {
      for (const Piece& piece : panel.pieces) {
        finish(pattern::with_default_allowances(piece), Mm{0.1}, tally, finished);
      }
    }
  });
  say(format("demo vehicle: {} pieces imported from a library file of {:.1f} MB, edges, simplify "
             "within 0.1 mm, extend, twin",
             finished.size() / 2, static_cast<double>(file.size()) / 1e6),
      format("{:.2f} s, worst deviation {:.4f} mm", took, tally.worst), "under 5 s",
      "wall clock, one thread", took < 5 && finished.size() == 200 && tally.failed == 0);
}

// ---- geodesics and panels cut out of scans

void geodesics() {
  Rng rng(17);
  const double radius = 300;
  const double turn = 2;
  const TriMesh cylinder = test::cylinder(radius, turn, 700, 80, 50);
  const double chord = 2 * radius * std::sin(turn / 80 / 2);
  double worst = 0;
  for (int k = 0; k < 300; ++k) {
    const std::size_t i = rng.below(81), j = rng.below(51), m = rng.below(81), n = rng.below(51);
    const auto way = surface::geodesic(cylinder, static_cast<VertexIndex>(81 * j + i),
                                       static_cast<VertexIndex>(81 * n + m));
    const double across = chord * (static_cast<double>(i) - static_cast<double>(m));
    const double along = 14 * (static_cast<double>(j) - static_cast<double>(n));
    const double exact = std::hypot(across, along);
    worst = std::max(worst, way ? std::abs(surface::length_of(cylinder, *way) - exact) : 1e9);
  }
  say("geodesics on a cylinder of 8000 triangles: worst error of length",
      format("{:.1e} mm", worst), "at most 1e-6 mm", "the unrolled prism, 300 random pairs",
      worst <= 1e-6);

  const TriMesh cap = test::cap(500, kPi / 2, 60);
  const Vec3 centre = cap.points[0] - Vec3{0, 0, 500};
  double off = 0;
  for (int k = 0; k < 100; ++k) {
    const auto a = static_cast<VertexIndex>(rng.below(cap.points.size()));
    const auto b = static_cast<VertexIndex>(rng.below(cap.points.size()));
    const Vec3 u = cap.points[a] - centre;
    const Vec3 v = cap.points[b] - centre;
    const double arc = 500 * std::atan2(length(cross(u, v)), dot(u, v));
    const auto way = surface::geodesic(cap, a, b);
    if (arc > 50) off = std::max(off, std::abs(surface::length_of(cap, *way) - arc) / arc);
  }
  say("geodesics on a sphere of 21 600 triangles: worst relative error of length",
      format("{:.4f} %", 100 * off), "", "great circles, 100 random pairs", std::nullopt);
}

/// The whole body as one scan: all panels in one mesh, as a scanner that sees no gaps would not
/// give, but with the panels' own rims.
void panel_from_body() {
  TriMesh body;
  for (const shop::Panel& panel : demo::make_vehicle().panels) {
    const auto base = static_cast<VertexIndex>(body.points.size());
    body.points.insert(body.points.end(), panel.surface.points.begin(), panel.surface.points.end());
    for (const Triangle& t : panel.surface.triangles) {
      body.triangles.push_back({t[0] + base, t[1] + base, t[2] + base});
    }
  }
  const shop::VehicleModel vehicle = demo::make_vehicle();
  const TriMesh& hood = shop::find_panel(vehicle, "hood")->surface;
  const auto on_hood = [&hood](double x, double y) {
    return *std::min_element(hood.points.begin(), hood.points.end(), [&](Vec3 p, Vec3 q) {
      return std::hypot(p.x - x, p.y - y) < std::hypot(q.x - x, q.y - y);
    });
  };
  surface::CutOutOptions options;
  options.points = {on_hood(2000, 400), on_hood(1100, 450), on_hood(1100, -450),
                    on_hood(2000, -400)};
  double area = 0;
  std::size_t runs = 0;
  const double took = seconds_of([&] {
    const auto made = surface::cut_out(body, options);
    if (!made) {
      tell_failure("body", made.error());
      return;
    }
    const auto clean = surface::clean(made->panel, {}, {});
    const auto flat = clean ? surface::flatten(clean->mesh, {}, {}) : Failure(clean.error());
    if (!flat) return;
    area = surface_area(made->panel);
    runs = made->boundary.size();
  });
  say(format("a panel cut out of the demo body ({} triangles) along four geodesics, then flattened",
             body.triangles.size()),
      format("{:.2f} s, {:.3f} m2, {} named stretches", took, area / 1e6, runs), "",
      "wall clock, one thread", std::nullopt);
}

}  // namespace
}  // namespace film

int main() {
  film::exact_answers();
  film::random_regions();
  film::demo_vehicle();
  film::library_to_twins();
  film::geodesics();
  film::panel_from_body();
  film::bench::photo_rows();
  return 0;
}
