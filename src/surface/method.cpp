#include "surface/method.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>

#include "base/text.h"
#include "surface/detail/topology.h"

namespace film::surface {
namespace {

using detail::kNoSide;
using detail::SideIndex;

// Where the choice turns. Basis: invented, to be set by what a shop sees; the rule behind each is
// common practice, no source.
constexpr double kFingerShare = 0.01;   ///< of the area: more cannot be worked out at a cut edge
constexpr std::size_t kNinetyFive = 4;  ///< percentile of the stretch held to the elastic limit
constexpr double kLipReach = 80;        ///< mm in from the edge over which a lip curls, at most
constexpr double kNarrowReach = 0.6;    ///< the same on narrow pieces, times area over perimeter
constexpr double kLipTurn = 60;         ///< degrees; a gentler edge is a crown, not a lip
constexpr double kLipShare = 0.10;      ///< of the perimeter
constexpr double kShowsLittle =
    0.8;  ///< mean visibility of relief cuts that a piece may bring along
constexpr std::size_t kGreatestProbes = 600;

Vec3 normal_of(const TriMesh& surface, std::uint32_t t) {
  const Vec3 n = area_vector(surface, surface.triangles[t]);
  return n / length(n);
}

Vec3 middle_of(const TriMesh& surface, std::uint32_t t) {
  const Triangle& c = surface.triangles[t];
  return (surface.points[c[0]] + surface.points[c[1]] + surface.points[c[2]]) / 3.0;
}

struct Curl {
  double perimeter = 0;   // mm, outer loop and openings
  double lip_length = 0;  // mm of it where the surface curls
  double turn = 0;        // greatest turn found, degrees
  double reach = 0;       // mm in from the edge that was looked at
};

/// Finds how far the surface turns within kLipReach of its edge, from evenly chosen boundary
/// triangles. O(probes * triangles within reach).
Curl curl_of(const TriMesh& surface) {
  const auto across = detail::sides_across(surface.triangles, surface.points.size());
  std::vector<SideIndex> rim;
  for (SideIndex s = 0; s < across.size(); ++s) {
    if (across[s] == kNoSide) rim.push_back(s);
  }
  Curl curl;
  for (const SideIndex s : rim) {
    curl.perimeter += distance(surface.points[detail::start_of(surface.triangles, s)],
                               surface.points[detail::end_of(surface.triangles, s)]);
  }
  curl.reach = std::min(kLipReach, kNarrowReach * surface_area(surface) / curl.perimeter);
  const std::size_t stride = rim.size() / kGreatestProbes + 1;
  std::vector<std::uint32_t> seen(surface.triangles.size(), 0);
  std::uint32_t mark = 0;
  std::vector<std::uint32_t> queue;
  for (std::size_t i = 0; i < rim.size(); ++i) {
    const double edge = distance(surface.points[detail::start_of(surface.triangles, rim[i])],
                                 surface.points[detail::end_of(surface.triangles, rim[i])]);
    if (i % stride != 0) continue;
    const std::uint32_t from = rim[i] / 3;
    const Vec3 centre = middle_of(surface, from);
    const Vec3 normal = normal_of(surface, from);
    double least = 1;
    queue.assign(1, from);
    seen[from] = ++mark;
    for (std::size_t head = 0; head < queue.size(); ++head) {
      least = std::min(least, dot(normal, normal_of(surface, queue[head])));
      for (SideIndex s = 3 * queue[head]; s < 3 * queue[head] + 3; ++s) {
        if (across[s] == kNoSide) continue;
        const std::uint32_t t = across[s] / 3;
        if (seen[t] == mark || distance(middle_of(surface, t), centre) > curl.reach) continue;
        seen[t] = mark;
        queue.push_back(t);
      }
    }
    const double turn = std::acos(std::clamp(least, -1.0, 1.0)) * 180 / std::numbers::pi;
    curl.turn = std::max(curl.turn, turn);
    if (turn > kLipTurn) curl.lip_length += edge * static_cast<double>(stride);
  }
  return curl;
}

bool too_many_fingers(const StrainReport& strain) {
  return strain.finger_area > kFingerShare * strain.area;
}

bool too_much_stretch(const StrainReport& strain, const FilmProperties& film) {
  return strain.percentiles[kNinetyFive] > 1 + film.elastic_limit;
}

/// Whether a pre-cut piece with these cuts lies down, and the cuts show little.
bool relieves(const Relieved& relief, const FilmProperties& film) {
  const bool hidden = std::all_of(relief.plan.cuts.begin(), relief.plan.cuts.end(),
                                  [](const ReliefCut& c) { return c.visibility < kShowsLittle; });
  return hidden && !too_many_fingers(relief.report) && !too_much_stretch(relief.report, film);
}

void judge_strain(const StrainReport& strain, const FilmProperties& film,
                  std::vector<std::string>& against, std::vector<std::string>& in_favour) {
  const double fingers = strain.finger_area / strain.area;
  if (too_many_fingers(strain)) {
    against.push_back(format(
        "Cut to shape and pressed down as it lies, {:.1f} % of the area is squeezed, by up to "
        "{:.1f} %.",
        100 * fingers, 100 * (1 - strain.least_stretch)));
  } else {
    in_favour.push_back(
        format("Pressed down as it lies, {:.2f} % of the area is squeezed past what film takes.",
               100 * fingers));
  }
  if (too_much_stretch(strain, film)) {
    against.push_back(format("5 % of the area is stretched past what the film keeps ({:.1f} %).",
                             100 * film.elastic_limit));
  } else {
    in_favour.push_back(format("The peak stretch is {:.2f} %.", 100 * (strain.peak_stretch - 1)));
  }
}

}  // namespace

Method choose_method(const TriMesh& surface, const StrainReport& strain, const Reach& reach,
                     const FilmProperties& film, const Relieved* relief) {
  std::vector<std::string> against;
  std::vector<std::string> in_favour;
  if (!reach.fits) {
    against.push_back(
        format("The roll does not reach: {:.0f} mm are needed.", reach.least_width.value));
  } else if (reach.stretch_needed > 1) {
    against.push_back(
        format("The panel is wider than the roll and is reached by {:.2f} % stretch, which a piece "
               "already cut cannot take.",
               100 * (reach.stretch_needed - 1)));
  } else {
    in_favour.push_back("The roll covers the panel without stretch.");
  }
  const Curl curl = curl_of(surface);
  if (curl.lip_length > kLipShare * curl.perimeter) {
    against.push_back(
        format("The edge curls into a lip over {:.0f} mm ({:.0f} % of the edge) and turns by up to "
               "{:.0f} degrees within {:.0f} mm: a cut edge cannot be placed there by eye.",
               std::min(curl.lip_length, curl.perimeter),
               std::min(100.0, 100 * curl.lip_length / curl.perimeter), curl.turn, curl.reach));
  } else {
    in_favour.push_back(
        format("The edge is open: it turns by {:.0f} degrees at most, over less than "
               "{:.0f} % of its length.",
               curl.turn, 100 * kLipShare));
  }
  if (relief != nullptr && !relief->plan.cuts.empty() && relieves(*relief, film)) {
    in_favour.push_back(relief->plan.words);
  } else {
    judge_strain(strain, film, against, in_favour);
  }
  if (against.empty()) return {Choice::precut, std::move(in_favour)};
  if (relief != nullptr && !relief->plan.cuts.empty()) against.push_back(relief->plan.words);
  return {Choice::bulk, std::move(against)};
}

}  // namespace film::surface
