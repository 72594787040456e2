#include "surface/strain.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "base/text.h"
#include "surface/detail/rest_shape.h"

namespace film::surface {
namespace {

using detail::RestShape;

/// Stretch of the film's own x and y fibres (along and across the grain).
Vec2 fibre_stretches(const TriangleStrain& s) {
  const double c2 = s.direction.x * s.direction.x;
  const double s2 = s.direction.y * s.direction.y;
  const double major2 = s.major * s.major;
  const double minor2 = s.minor * s.minor;
  return {std::sqrt(major2 * c2 + minor2 * s2), std::sqrt(major2 * s2 + minor2 * c2)};
}

double percent(double part, double whole) { return whole > 0 ? 100 * part / whole : 0; }

/// `settled`: fingers are those of film that slid over the panel before it was pressed down.
std::string verdict_of(const StrainReport& r, bool settled) {
  const double fingers = percent(r.finger_area, r.area);
  const double marks = percent(r.mark_area, r.area);
  const double over = percent(r.over_area, r.area);
  std::string text =
      format("Stretch up to {:.2f} %, squeeze up to {:.2f} %.",
             std::max(0.0, 100 * (r.peak_stretch - 1)), std::max(0.0, 100 * (1 - r.least_stretch)));
  if (fingers < 0.05 && marks < 0.05 && over < 0.05)
    return text + " The film lies down everywhere.";
  if (fingers >= 0.05) {
    text += settled ? " Left to slide until it rests, it keeps fingers on"
                    : " Fingers are to be expected on";
    text += format(" {:.1f} % of the panel.", fingers);
  }
  if (r.fingers > 0) {
    text += format(" About {}, up to {:.0f} mm long, the fullest taking up {:.1f} mm of film.",
                   r.fingers == 1 ? "one finger" : format("{} fingers", r.fingers),
                   r.longest_finger, r.finger_gathers);
  }
  if (over >= 0.05) text += format(" {:.1f} % is past the film's limits.", over);
  if (marks >= 0.05) text += format(" Stretch marks are to be expected on {:.1f} %.", marks);
  return text;
}

}  // namespace

std::vector<TriangleStrain> triangle_strains(const TriMesh& surface, std::span<const Vec2> flat) {
  const std::vector<RestShape> shapes = detail::rest_shapes(surface);
  std::vector<TriangleStrain> strains;
  strains.reserve(shapes.size());
  for (std::size_t t = 0; t < shapes.size(); ++t) {
    const Triangle& c = surface.triangles[t];
    const auto s = detail::svd(shapes[t].map(flat[c[0]], flat[c[1]], flat[c[2]]));
    // The film stretches most where the map to the film shrinks most.
    strains.push_back({1 / s.s2, 1 / s.s1, {s.u(0, 1), s.u(1, 1)}});
  }
  return strains;
}

StrainReport report_strain(const TriMesh& surface, std::span<const Vec2> flat,
                           const FilmProperties& film) {
  const std::vector<TriangleStrain> strains = triangle_strains(surface, flat);
  StrainReport report;
  report.least_stretch = report.peak_stretch = strains.empty() ? 1 : strains.front().major;
  std::vector<std::pair<double, double>> by_major;  // stretch, area
  by_major.reserve(strains.size());
  double pulled = 0;
  for (std::size_t t = 0; t < strains.size(); ++t) {
    const double area = length(area_vector(surface, surface.triangles[t])) / 2;
    const TriangleStrain& s = strains[t];
    const Vec2 fibres = fibre_stretches(s);
    report.area += area;
    if (s.minor < 1 - film.finger_threshold) report.finger_area += area;
    if (s.major > 1 + film.mark_limit) report.mark_area += area;
    if (fibres.x > 1 + film.tension_limit_along || fibres.y > 1 + film.tension_limit_across) {
      report.over_area += area;
    }
    report.peak_stretch = std::max(report.peak_stretch, s.major);
    report.least_stretch = std::min(report.least_stretch, s.minor);
    pulled += area * std::max(0.0, s.major - 1);
    by_major.emplace_back(s.major, area);
  }
  std::sort(by_major.begin(), by_major.end());
  constexpr std::array<double, 6> kShares{0.05, 0.25, 0.5, 0.75, 0.95, 0.99};
  double below = 0;
  std::size_t next = 0;
  for (const auto& [stretch, area] : by_major) {
    below += area;
    while (next < kShares.size() && below >= kShares[next] * report.area * (1 - 1e-12)) {
      report.percentiles[next++] = stretch;
    }
  }
  // Mean stretch over the panel's mean width, given back by the share that the film draws back.
  if (report.area > 0) {
    report.pull_back_length = film.pull_back * pulled / report.area * std::sqrt(report.area);
  }
  report.verdict = verdict_of(report, false);
  return report;
}

StrainReport report_strain(const TriMesh& surface, std::span<const Vec2> flat,
                           const FilmProperties& film, const TensionField& field) {
  StrainReport report = report_strain(surface, flat, film);
  report.finger_area = 0;
  for (std::size_t t = 0; t < field.triangles.size(); ++t) {
    if (field.triangles[t].surplus <= film.finger_threshold) continue;
    report.finger_area += length(area_vector(surface, surface.triangles[t])) / 2;
  }
  for (const FingerArea& area : field.areas) {
    report.fingers += area.fingers.size();
    for (const Finger& finger : area.fingers) {
      report.longest_finger = std::max(report.longest_finger, finger.length);
      report.finger_gathers = std::max(report.finger_gathers, finger.gathers);
    }
  }
  report.verdict = verdict_of(report, true);
  return report;
}

}  // namespace film::surface
