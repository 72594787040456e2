#include "surface/reach.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "base/assert.h"
#include "base/text.h"
#include "geometry/hull.h"

namespace film::surface {
namespace {

struct Extent {
  double across;
  double along;
};

Extent extent_at(std::span<const Vec2> hull, double turn) {
  const Vec2 along{std::cos(turn), -std::sin(turn)};  // roll x, seen in the piece's frame
  const Vec2 across{std::sin(turn), std::cos(turn)};
  double low_x = std::numeric_limits<double>::infinity();
  double low_y = low_x;
  double high_x = -low_x;
  double high_y = -low_x;
  for (const Vec2 p : hull) {
    low_x = std::min(low_x, dot(along, p));
    high_x = std::max(high_x, dot(along, p));
    low_y = std::min(low_y, dot(across, p));
    high_y = std::max(high_y, dot(across, p));
  }
  return {high_y - low_y, high_x - low_x};
}

/// Turns at which the width can be least: those allowed outright, the ends of the tolerance, and
/// those that bring a hull edge parallel to the roll.
std::vector<double> candidate_turns(std::span<const Vec2> hull, const ReachOptions& options) {
  constexpr double kHalf = std::numbers::pi / 2;
  std::vector<double> centres{0};
  if (options.turning == Turning::square) centres.push_back(kHalf);
  double slack = std::abs(options.tolerance.radians);
  if (options.turning == Turning::free) slack = kHalf;
  std::vector<double> turns = centres;
  if (slack == 0) return turns;
  for (const double centre : centres) {
    turns.push_back(centre - slack);
    turns.push_back(centre + slack);
    for (std::size_t i = 0; i < hull.size(); ++i) {
      const Vec2 edge = hull[(i + 1) % hull.size()] - hull[i];
      const double flat_turn = -std::atan2(edge.y, edge.x);
      const double off = std::remainder(flat_turn - centre, std::numbers::pi);
      if (std::abs(off) <= slack) turns.push_back(centre + off);
    }
  }
  return turns;
}

std::string plan_of(const Reach& r, const FilmProperties& film, const ReachOptions& options) {
  const double percent = 100 * (r.stretch_needed - 1);
  const std::string turned =
      r.turn.radians == 0 ? "" : format(" turned by {:.1f} degrees", r.turn.degrees());
  if (!r.fits) {
    return format(
        "The roll is too narrow: the piece is {:.0f} mm across{} and would need {:.1f} % stretch, "
        "past the limit of {:.1f} %. A roll of {:.0f} mm would do; or set a seam.",
        r.width.value, turned, percent, 100 * film.tension_limit_across, r.least_width.value);
  }
  if (r.stretch_needed <= 1) {
    return format("The roll covers the piece{} without stretch; cut {:.0f} mm of roll.", turned,
                  r.length.value);
  }
  const double pull = r.width.value - (options.roll_width.value - 2 * options.margin.value);
  return format(
      "Anchor one side and pull the film {:.1f} mm ({:.2f} in) across the roll{}, {:.2f} % "
      "stretch; cut {:.0f} mm of roll, since the film grows shorter as it is pulled wider.",
      pull, Mm{pull}.inches(), turned, percent, r.length.value);
}

}  // namespace

Reach reach(std::span<const Vec2> flat, const FilmProperties& film, const ReachOptions& options) {
  FILM_ASSERT(flat.size() >= 3);
  const std::vector<Vec2> hull = convex_hull(flat);
  Reach best;
  Extent extent{std::numeric_limits<double>::infinity(), 0};
  for (const double turn : candidate_turns(hull, options)) {
    const Extent here = extent_at(hull, turn);
    // Turns that rounding alone tells apart count as the same; the first one stays.
    if (here.across >= extent.across * (1 - 1e-12)) continue;
    extent = here;
    best.turn = Angle{turn};
  }
  best.width = Mm{extent.across};
  const double usable = options.roll_width.value - 2 * options.margin.value;
  best.stretch_needed =
      usable > 0 ? std::max(1.0, extent.across / usable) : std::numeric_limits<double>::infinity();
  best.fits = best.stretch_needed <= 1 + film.tension_limit_across;
  best.least_width = Mm{extent.across / (1 + film.tension_limit_across)} + 2 * options.margin;
  const double shortening = std::clamp(1 - film.contraction * (best.stretch_needed - 1), 0.5, 1.0);
  best.length = Mm{extent.along / shortening} + 2 * options.margin;
  best.plan = plan_of(best, film, options);
  return best;
}

}  // namespace film::surface
