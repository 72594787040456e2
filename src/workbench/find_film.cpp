#include "workbench/find_film.h"

#include <algorithm>
#include <optional>
#include <tuple>
#include <utility>

#include "layout/solve.h"
#include "layout/verify.h"

namespace film::workbench {
namespace {

constexpr std::uint64_t kPasses = 20;  // one piece needs no long search

Polygon rectangle(const Box& box) {
  return {{box.low, {box.high.x, box.low.y}, box.high, {box.low.x, box.high.y}}, {}};
}

double area_of(const Box& box) { return box.width() * box.height(); }

/// Can the piece lie in a box so long and wide in any of its turns?
bool box_takes(const layout::Item& piece, double length, double width) {
  if (piece.turns.empty()) return layout::least_width(piece) <= std::min(length, width);
  return std::any_of(piece.turns.begin(), piece.turns.end(), [&](Angle turn) {
    const Box box = bounding_box(apply(Placement{turn.radians, {}}, piece.shape));
    return box.width() <= length && box.height() <= width;
  });
}

Result<std::optional<FilmPlace>> lay(const FilmSearch& search, shop::Roll film, layout::Strip strip,
                                     const Context& context) {
  FilmPlace place;
  place.film = std::move(film);
  place.problem.name = search.piece.id;
  place.problem.units = "mm";
  place.problem.strip = std::move(strip);
  place.problem.items = {search.piece};
  auto solution = layout::solve(place.problem, {.iteration_limit = kPasses}, context);
  if (!solution) return Failure(solution.error());
  if (!solution->unplaced.empty() || !layout::verify(place.problem, *solution).empty()) {
    return std::optional<FilmPlace>{};
  }
  place.solution = *std::move(solution);
  return std::optional<FilmPlace>(std::move(place));
}

/// Finds what of `sheet` is left worth keeping, and what the place costs. What is left of film is
/// worth less than it was, because it serves fewer pieces.
void reckon(FilmPlace& place, const Polygon& sheet, const FilmSearch& search) {
  const std::vector<Polygon> cut{layout::outline_of(place.problem, place.solution.placements[0])};
  shop::RestRule rule;
  rule.margin = Mm{search.gap};
  place.rests = shop::rests_of(sheet, cut, rule);
  double kept = 0;
  for (const Box& rest : place.rests) kept += area_of(rest);
  place.waste = area(sheet) - area(cut.front()) - kept;
  const double worth = search.rest_worth;
  place.cost = (place.offcut ? worth : 1.0) * (area(sheet) - worth * kept);
}

}  // namespace

layout::Strip strip_of(const shop::Roll& roll, const layout::Margins& margins, double gap) {
  layout::Strip strip;
  strip.width = roll.width.value;
  strip.gap = gap;
  strip.margins = margins;
  strip.maximum_length = roll.remaining.value;
  for (const Box& defect : shop::defects_ahead(roll)) strip.defects.push_back(rectangle(defect));
  return strip;
}

layout::Strip strip_of(const shop::Offcut& offcut, const layout::Margins& margins, double gap) {
  layout::Strip strip = layout::strip_of_offcut(offcut.outline, gap);
  strip.margins = margins;
  return strip;
}

Result<std::vector<FilmPlace>> places_for(const FilmSearch& search,
                                          std::span<const shop::Offcut> offcuts,
                                          std::span<const shop::Roll> rolls,
                                          const Context& context) {
  const layout::Margins& margins = search.margins;
  const double need = area(search.piece.shape);
  std::vector<std::pair<double, const shop::Offcut*>> fitting;
  for (const shop::Offcut& offcut : offcuts) {
    if (offcut.gone || offcut.film != search.film) continue;
    const Box box = bounding_box(offcut.outline);
    const double usable = area(offcut.outline);
    if (usable < need || !box_takes(search.piece, box.width() - margins.start - margins.end,
                                    box.height() - margins.low - margins.high)) {
      continue;
    }
    fitting.emplace_back(usable, &offcut);
  }
  std::stable_sort(fitting.begin(), fitting.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<FilmPlace> places;
  for (const auto& [usable, offcut] : fitting) {
    if (places.size() >= search.offcuts) break;
    auto place =
        lay(search, shop::as_roll(*offcut), strip_of(*offcut, margins, search.gap), context);
    if (!place) return Failure(place.error());
    if (!*place) continue;
    (*place)->offcut = true;
    reckon(**place, offcut->outline, search);
    places.push_back(std::move(**place));
  }
  std::optional<FilmPlace> best;
  for (const shop::Roll& roll : rolls) {
    if (roll.film != search.film || !(roll.remaining > Mm{0})) continue;
    auto place = lay(search, roll, strip_of(roll, margins, search.gap), context);
    if (!place) return Failure(place.error());
    if (!*place) continue;
    reckon(**place, rectangle({{0, 0}, {(*place)->solution.length, roll.width.value}}), search);
    if (!best || (*place)->cost < best->cost) best = std::move(**place);
  }
  if (best) places.push_back(std::move(*best));
  std::stable_sort(places.begin(), places.end(), [&](const FilmPlace& a, const FilmPlace& b) {
    const auto rank = [&](const FilmPlace& p) {
      return std::tuple(p.cost, p.film.lot != search.lot);
    };
    return rank(a) < rank(b);
  });
  return places;
}

}  // namespace film::workbench
