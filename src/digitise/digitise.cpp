#include "digitise/digitise.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.h"
#include "digitise/board.h"
#include "digitise/detail/accuracy.h"
#include "digitise/detail/adjust.h"
#include "digitise/detail/light.h"
#include "digitise/detail/plan_view.h"
#include "digitise/detail/sightings.h"
#include "digitise/detail/trace.h"
#include "geometry/simplify.h"

namespace film::digitise {
namespace {

using detail::Adjusted;
using detail::Known;
using detail::Scene;
using detail::SeenMarker;

constexpr double k95 = 1.96;                // standard uncertainties in a half-width of 95 %
constexpr double kScaleRatioSigma = 0.002;  // of paper scale across over along, when not measured
constexpr std::size_t kLeastMarkers = 12;   // for camera, lens and print together
constexpr double kMostBlur = 6;             // px from dark to bright
constexpr double kFlattening = 0.02;        // mm, curves to polygons

// ---- what was measured of the print

Result<Known> known_print(const Options& options) {
  const auto checked = [&](Mm measured, double drawn) -> Result<double> {
    const double scale = measured.value / drawn;
    if (scale > 0.9 && scale < 1.1) return scale;
    return fail(ErrorCode::invalid_input,
                format("a check line drawn {:.0f} mm long cannot have come out {:.1f} mm long",
                       drawn, measured.value),
                "print scale",
                format("Measure from end to end: {:.0f} mm up the right side of a sheet, {:.0f} mm "
                       "along its bottom. Print again at 100 % if it is far off",
                       kLongCheckLine, kShortCheckLine));
  };
  if (!(options.check_within.value > 0) || !(options.tolerance.value > 0) ||
      !(options.thickness.value >= 0) || !(options.thickness_within.value >= 0)) {
    return fail(ErrorCode::invalid_input, "lengths must be more than 0 mm");
  }
  const auto up = checked(options.long_check, kLongCheckLine);
  if (!up) return Failure(up.error());
  Known known;
  known.scale_y = *up;
  known.scale_y_sigma = options.check_within.value / k95 / kLongCheckLine;
  known.scale_x = *up;
  known.scale_x_sigma = std::hypot(known.scale_y_sigma, kScaleRatioSigma);
  if (options.short_check) {
    const auto across = checked(*options.short_check, kShortCheckLine);
    if (!across) return Failure(across.error());
    known.scale_x = *across;
    known.scale_x_sigma = options.check_within.value / k95 / kShortCheckLine;
  }
  return known;
}

// ---- markers

Result<std::vector<SeenMarker>> markers_of(const GreyRaster& photo) {
  std::vector<SeenMarker> markers = detail::find_markers(photo);
  if (markers.empty()) {
    return fail(ErrorCode::invalid_input, "the photo shows no marker of the board", "",
                "Print the marker board, lay its sheets round the template and photograph them "
                "sharp, from above, in even light");
  }
  for (std::size_t i = 1; i < markers.size(); ++i) {
    if (markers[i].id != markers[i - 1].id) continue;
    return fail(ErrorCode::invalid_input,
                format("sheet {} lies there twice", sheet_of(markers[i].id) + 1), "",
                "Use every sheet once; the number is at its top left");
  }
  std::set<int> sheets;
  for (const SeenMarker& marker : markers) sheets.insert(sheet_of(marker.id));
  if (markers.size() < kLeastMarkers || sheets.size() < 3) {
    return fail(ErrorCode::invalid_input,
                format("only {} markers on {} sheets can be read; the lens needs {} on 3",
                       markers.size(), sheets.size(), kLeastMarkers),
                "", "Lay more sheets round the template and take all of them into the picture");
  }
  return markers;
}

Result<Adjusted> fitted(const GreyRaster& photo, const std::vector<SeenMarker>& markers,
                        const Known& known) {
  const Vec2 size{static_cast<double>(photo.width), static_cast<double>(photo.height)};
  auto first = detail::first_scene(markers, known, photo.width, photo.height);
  if (!first) return Failure(first.error());
  auto rough = detail::adjust(std::move(*first), detail::corner_sightings(markers), known, size);
  if (!rough) return rough;
  const detail::EdgeSightings edges = detail::edge_sightings(photo, markers, rough->scene);
  if (edges.width > kMostBlur) {
    return fail(ErrorCode::invalid_input,
                format("the photo is blurred: edges are {:.0f} pixels wide", edges.width), "",
                "Hold the camera still, in more light, and let it focus on the board");
  }
  if (edges.sightings.size() < 8 * kLeastMarkers) {
    return fail(ErrorCode::invalid_input, "the markers are too small or too faint to measure", "",
                "Go nearer, or take the photo with more pixels and in even light");
  }
  return detail::adjust(rough->scene, edges.sightings, known, size);
}

// ---- outlines

double pixel_size(const Scene& scene, Vec2 p) {
  return 1 / std::sqrt(std::max(std::abs(detail::slope(scene.camera, p).determinant()), 1e-12));
}

Vec2 middle_of(const Scene& scene) {
  Box box;
  for (const auto& [sheet, placement] : scene.sheets) box.add(placement.move);
  return box.centre();
}

Failure reaches_out(const Scene& scene, const detail::Spot& spot) {
  int nearest = scene.first;
  for (const auto& [sheet, placement] : scene.sheets) {
    if (distance(placement.move, spot.border) <
        distance(scene.sheets.at(nearest).move, spot.border)) {
      nearest = sheet;
    }
  }
  return fail(ErrorCode::invalid_input,
              "the template reaches a sheet, or beyond the ground between the sheets",
              format("near sheet {}", nearest + 1),
              "Move the sheets aside so that ground shows all round the template, within the ring "
              "of sheets and within the photo");
}

struct Lines {
  std::vector<CurvePath> curves;
  std::vector<Ring> rings;
  double residual = 0;  // mm, 95th percentile of what was seen from the curve
  double width = 0;     // mm, blur of the edge
  double missed = 0;    // share
};

double percentile(std::vector<double> values, double share) {
  if (values.empty()) return 0;
  const auto at =
      values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), at, values.end());
  return *at;
}

/// Distance of points from a ring whose points lie in the same order round.
std::vector<double> distances(const Ring& points, const Ring& ring) {
  std::vector<double> all;
  for (const Vec2 p : points) {
    double nearest = 1e300;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      nearest = std::min(nearest, distance_to_segment(p, ring[i], ring[(i + 1) % ring.size()]));
    }
    all.push_back(nearest);
  }
  return all;
}

/// Standard deviation of the noise across a ring, from how each point lies off the line of its
/// neighbours; bends and corners are too few to count.
double noise_of(const Ring& ring) {
  std::vector<double> off;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = ring[i];
    const Vec2 b = ring[(i + 2) % ring.size()];
    const Vec2 p = ring[(i + 1) % ring.size()];
    off.push_back(std::abs(cross(b - a, p - a)) / std::max(length(b - a), 1e-9));
  }
  // A point less half of each neighbour: its variance is 1.5 times that of the noise.
  return percentile(std::move(off), 0.5) / 0.6745 / std::sqrt(1.5);
}

Lines traced_lines(const GreyRaster& photo, const Scene& scene, const detail::Spot& spot,
                   const Options& options) {
  Lines lines;
  std::vector<double> residuals;
  for (const Ring& rough : spot.rings) {
    const double pixel = pixel_size(scene, rough.front());
    const detail::Traced traced =
        detail::trace(photo, scene.camera, rough, options.thickness.value, pixel);
    const bool outer = lines.rings.empty();
    lines.missed = std::max(lines.missed, traced.missed);
    if (traced.ring.size() < 16) {
      if (outer) return lines;
      continue;
    }
    // Nearer than noise asks would follow the noise; further would give truth away.
    const double tolerance =
        std::min(options.tolerance.value, std::max(0.05, 4 * noise_of(traced.ring)));
    CurveFit fit = fit_curves(traced.ring, traced.corners, tolerance);
    Ring ring = flattened(fit.path, kFlattening);
    const std::vector<double> off = distances(traced.ring, ring);
    residuals.insert(residuals.end(), off.begin(), off.end());
    lines.width = std::max(lines.width, traced.width);
    lines.curves.push_back(std::move(fit.path));
    lines.rings.push_back(std::move(ring));
  }
  lines.residual = percentile(std::move(residuals), 0.95);
  return lines;
}

/// About `count` points evenly along the rings: their corners alone say little of straight sides.
std::vector<Vec2> spread_along(const std::vector<Ring>& rings, std::size_t count) {
  double length = 0;
  for (const Ring& ring : rings) length += perimeter(ring);
  const double step = length / static_cast<double>(count);
  std::vector<Vec2> points;
  for (const Ring& ring : rings) {
    double next = 0;  // along the ring, from the start of the side at hand
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 from = ring[i];
      const Vec2 to = ring[(i + 1) % ring.size()];
      const double size = distance(from, to);
      for (; next < size; next += step) points.push_back(from + (next / size) * (to - from));
      next -= size;
    }
  }
  return points;
}

Accuracy accuracy_of(const Adjusted& fit, const Lines& lines, const Options& options) {
  // Cameras bend their grey curve each in its own way, which moves a blurred edge by a part of its
  // width.
  constexpr double kCurveDoubt = 0.05;
  const detail::Spread spread =
      detail::spread_of(fit, spread_along(lines.rings, 200), options.thickness.value);
  Accuracy accuracy;
  accuracy.camera = k95 * spread.camera;
  accuracy.scale = k95 * spread.scale;
  accuracy.height = options.thickness_within.value * spread.height;
  accuracy.edge = std::hypot(lines.residual, kCurveDoubt * lines.width);
  accuracy.expected =
      std::sqrt(accuracy.camera * accuracy.camera + accuracy.scale * accuracy.scale +
                accuracy.height * accuracy.height + accuracy.edge * accuracy.edge);
  return accuracy;
}

CurvePath moved(CurvePath path, const Placement& by) {
  path.start = apply(by, path.start);
  for (auto& cubic : path.cubics) {
    cubic = {apply(by, cubic.p1), apply(by, cubic.p2), apply(by, cubic.end), cubic.straight};
  }
  return path;
}

/// From the board's frame to that of the sheet with the lowest number, by a turn alone.
Placement upright(const Scene& scene) { return {-scene.sheets.begin()->second.turn, {}}; }

void move_to_origin(std::vector<Outline>& outlines, const Placement& turn) {
  Box box;
  for (const Outline& outline : outlines) box.add(bounding_box(apply(turn, outline.polygon)));
  const Placement all{turn.turn, -box.low};
  for (Outline& outline : outlines) {
    outline.polygon = apply(all, outline.polygon);
    for (CurvePath& path : outline.curves) path = moved(std::move(path), all);
  }
}

View view_of(const Adjusted& fit, const std::vector<SeenMarker>& markers, Vec2 middle) {
  const detail::Camera& camera = fit.scene.camera;
  View view;
  view.focal = camera.focal;
  view.k1 = camera.k1;
  view.k2 = camera.k2;
  view.tilt = Angle{std::acos(std::min(1.0, std::abs(camera.turn(2, 2))))};
  view.mm_per_pixel = pixel_size(fit.scene, middle);
  view.residual = fit.residual;
  view.markers = markers.size();
  for (const auto& [sheet, placement] : fit.scene.sheets) view.sheets.push_back(sheet + 1);
  return view;
}

Result<void> trace_spots(const GreyRaster& photo, const Adjusted& fit, const Options& options,
                         const std::vector<detail::Spot>& spots, Digitised& result) {
  for (const detail::Spot& spot : spots) {
    if (spot.at_border) {
      if (&spot == &spots.front()) return reaches_out(fit.scene, spot);
      result.notes.push_back(
          format("a spot of {:.0f} mm2 at the edge of the board was left out", spot.area));
      continue;
    }
    Lines lines = traced_lines(photo, fit.scene, spot, options);
    if (lines.rings.empty()) {
      result.notes.push_back(
          format("a spot of {:.0f} mm2 has no clear edge and was left out", spot.area));
      continue;
    }
    Outline outline;
    outline.accuracy = accuracy_of(fit, lines, options);
    auto polygon = make_polygon(lines.rings.front(), {lines.rings.begin() + 1, lines.rings.end()});
    if (!polygon) {
      result.notes.push_back(
          format("an outline of {:.0f} mm2 was left out: {}", spot.area, polygon.error().what));
      continue;
    }
    if (lines.missed > 0.1) {
      result.notes.push_back(format("{:.0f} % of an outline showed no clear edge and was bridged",
                                    100 * lines.missed));
    }
    outline.polygon = std::move(*polygon);
    outline.curves = std::move(lines.curves);
    for (const Ring& ring : lines.rings) {
      Ring& seen = outline.in_photo.emplace_back();
      for (const Vec2 p : ring) {
        seen.push_back(fit.scene.camera.seen(p, options.thickness.value));
      }
    }
    result.outlines.push_back(std::move(outline));
  }
  if (result.outlines.empty()) {
    return fail(
        ErrorCode::invalid_input, "no template can be traced among the sheets", "",
        "Lay one that differs clearly in brightness from what lies under it, in even light");
  }
  return {};
}

}  // namespace

Result<Digitised> digitise(const GreyRaster& photo, const Options& options,
                           const Context& context) {
  const auto known = known_print(options);
  if (!known) return Failure(known.error());
  const auto stopped = [] { return fail(ErrorCode::cancelled, "stopped before it was traced"); };
  context.report("finding markers", 0);
  const auto markers = markers_of(photo);
  if (!markers) return Failure(markers.error());
  if (context.stopped()) return stopped();
  context.report("measuring the camera", 0.4);
  const auto fit = fitted(photo, *markers, *known);
  if (!fit) return Failure(fit.error());
  if (context.stopped()) return stopped();

  context.report("parting template from ground", 0.6);
  Digitised result;
  result.view = view_of(*fit, *markers, middle_of(fit->scene));
  const double pitch = std::clamp(2 * result.view.mm_per_pixel, 0.8, 2.0);
  const detail::PlanView view =
      detail::plan_view(photo, fit->scene, options.thickness.value, pitch);
  const auto separation = detail::separate(view);
  if (!separation) return Failure(separation.error());
  const auto spots = detail::spots(view, *separation, options.least_area);
  if (context.stopped()) return stopped();

  context.report("tracing", 0.8);
  if (auto traced = trace_spots(photo, *fit, options, spots, result); !traced) {
    return Failure(traced.error());
  }
  if (fit->used < 0.9) {
    result.notes.push_back(
        format("{:.0f} % of the marker edges do not fit: see that the sheets lie flat",
               100 * (1 - fit->used)));
  }
  move_to_origin(result.outlines, upright(fit->scene));
  return result;
}

}  // namespace film::digitise
