#include "workbench/keep_offcut.h"

#include "cutting/picture.h"
#include "store/store.h"
#include "workbench/book_run.h"
#include "workbench/detail/lookup.h"

namespace film::workbench {
namespace {

/// What the run's pieces were cut out of: the offcut, or as much of the roll as was used.
Polygon sheet_of(store::Book& book, const shop::CutRun& run, Mm width) {
  if (const auto offcut = book.offcut(run.roll)) return offcut->outline;
  const double x = run.used.value;
  const double y = width.value;
  return {{{0, 0}, {x, 0}, {x, y}, {0, y}}, {}};
}

}  // namespace

Result<std::vector<Rest>> rests_of_run(Workbench& workbench, const std::string& id) {
  const auto view = read_book_run(workbench, id);
  if (!view) return Failure(view.error());
  const shop::CutRun& run = view->record;
  if (!run.over) {
    return fail(ErrorCode::conflict, "the run is not over", "run " + id,
                "Cut it to its end or give it up first.");
  }
  std::vector<Rest> rests;
  if (!(run.used > Mm{0})) return rests;
  std::vector<Polygon> cut;
  for (const cutting::Contour& contour : view->plan.contours) {
    if (contour.kind != cutting::ContourKind::outline) continue;
    if (auto outline = make_polygon(cutting::bare_line(contour)))
      cut.push_back(std::move(*outline));
  }
  return workbench.store().look([&](store::Book& book) {
    const auto roll = book.roll(run.roll);
    const auto settings = book.settings().value_or(shop::Settings{});
    shop::RestRule rule;
    rule.margin = settings.piece_gap;
    for (const Box& box : shop::rests_of(sheet_of(book, run, roll->width), cut, rule)) {
      rests.push_back({run.roll, run.film, roll->lot, run.id, box});
    }
    return rests;
  });
}

Result<shop::Offcut> keep_offcut(Workbench& workbench, const OffcutEntry& entry) {
  auto outline = make_polygon(entry.outline.outer, entry.outline.holes);
  if (!outline) return Failure(outline.error());
  shop::Offcut offcut;
  offcut.film = entry.film;
  offcut.lot = entry.lot;
  offcut.outline = shop::shelved(*outline, entry.grain);
  offcut.from = entry.from;
  offcut.run = entry.run;
  offcut.place = entry.place;
  const std::string at = now();
  offcut.kept = at.substr(0, 10);
  if (auto sound = shop::check(offcut); !sound) return Failure(sound.error());
  return workbench.store().change([&](store::Book& book) -> Result<shop::Offcut> {
    if (!book.film(offcut.film)) {
      return fail(ErrorCode::not_found, "there is no such film", "film " + offcut.film,
                  "Choose one of the films in the book.");
    }
    return book.add(offcut, entry.who, at);
  });
}

}  // namespace film::workbench
