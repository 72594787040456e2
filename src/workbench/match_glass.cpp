#include "workbench/match_glass.h"

#include <utility>

#include "base/text.h"
#include "exchange/glass_json.h"
#include "store/store.h"
#include "workbench/limits.h"

namespace film::workbench {
namespace {

using glazing::Sheet;
using glazing::Stack;

Stack stack_of(const Sheet& glass, const std::vector<std::string>& names,
               const std::vector<Sheet>& films) {
  Stack stack{{glass}, {}};
  for (const std::string& name : names) {
    for (const Sheet& film : films) {
      if (film.id != name) continue;
      stack.sheets.push_back(film);
      stack.joints.push_back({glazing::Joint::Kind::bonded, 0});
      break;
    }
  }
  return stack;
}

std::optional<glazing::StackOptics> over(const Stack& stack, const glazing::BandWeights& band) {
  auto result = glazing::average_of(stack, band);
  if (!result) return std::nullopt;
  return std::move(result->optics);
}

void add_heat(MatchLine& line, const Stack& stack, const MatchReport& report) {
  if (const auto solar = over(stack, glazing::solar_weights())) {
    line.standing = glazing::heat_gain(*solar, stack.joints, report.standing);
    line.moving = glazing::heat_gain(*solar, stack.joints, report.moving);
  }
  if (const auto infrared = over(stack, glazing::infrared_weights())) {
    line.infrared_stopped = 1 - infrared->total.transmit_front;
  }
  if (const auto uv = over(stack, glazing::ultraviolet_weights())) {
    line.ultraviolet = uv->total.transmit_front;
  }
}

Result<std::vector<Sheet>> shop_films(Workbench& workbench) {
  return workbench.store().look([](store::Book& book) -> Result<std::vector<Sheet>> {
    std::vector<Sheet> sheets;
    for (const shop::Film& film : book.films()) {
      if (film.use != shop::FilmUse::glass) continue;
      const auto layer = book.film_optics(film.id);
      if (!layer) continue;
      auto sheet = exchange::read_glass_sheet(*layer);
      if (!sheet) return Failure(sheet.error());
      sheet->id = film.id;
      sheets.push_back(std::move(*sheet));
    }
    if (sheets.empty()) {
      return fail(ErrorCode::not_found, "the shop has no film for glass whose optics are known",
                  "films", "Give a film's optics with filmwright glass keep.");
    }
    return sheets;
  });
}

}  // namespace

std::string infrared_note(double infrared_stopped, double heat_rejected) {
  return format(
      "{:.0f} % of the infrared does not pass, but {:.0f} % of the sun's heat is kept "
      "out: about half of the heat is visible light, and some of what glass and film "
      "take up goes inside after all.",
      100 * infrared_stopped, 100 * heat_rejected);
}

Result<MatchReport> match_glass(const MatchOrder& order, const std::vector<Sheet>& films,
                                const std::vector<glazing::WindowLimit>& limits) {
  auto front = glazing::glass_like(order.front.transmittance, order.front.tint, "front");
  if (!front) return Failure(front.error());
  auto target = glazing::glass_like(order.target.transmittance, order.target.tint, "behind");
  if (!target) return Failure(target.error());
  auto answer = glazing::match(
      {*front, *target, films, order.most_films, order.glass_tolerance, order.meter_error});
  if (!answer) return Failure(answer.error());
  MatchReport report;
  report.standing = glazing::stationary();
  report.moving = glazing::moving(order.speed);
  report.answer = std::move(*answer);
  bool grey = false;
  for (glazing::Match& match : report.answer.matches) {
    MatchLine line;
    const Stack stack = stack_of(*front, match.films, films);
    line.match = std::move(match);
    line.reflectance = line.match.look.mirrored.y;
    grey = grey || line.match.look.grey;
    add_heat(line, stack, report);
    if (line.match.films.empty()) {
      line.ruling.reason = "Without film there is nothing to judge.";
    } else if (!order.place.empty()) {
      line.ruling = glazing::judge(limits, order.place, order.position,
                                   {line.match.visible, line.reflectance});
    }
    report.lines.push_back(std::move(line));
  }
  report.answer.matches.clear();
  const MatchLine& best = report.lines.front();
  if (best.infrared_stopped && best.standing) {
    report.notes.push_back(infrared_note(*best.infrared_stopped, best.standing->rejected));
  }
  if (grey) {
    report.notes.emplace_back(
        "some films have averages only and were taken for grey: their colour is not known");
  }
  report.notes.emplace_back(
      "the glass is assumed to be of its kind; two panes of one kind differ, so hold a sample of "
      "the film to the window before cutting");
  report.notes.emplace_back(glazing::no_advice());
  return report;
}

Result<MatchReport> match_glass(Workbench& workbench, const MatchOrder& order) {
  const auto films = shop_films(workbench);
  if (!films) return Failure(films.error());
  const auto tables = limit_tables(workbench.folder() / "limits");
  if (!tables) return Failure(tables.error());
  return match_glass(order, *films, tables->windows);
}

}  // namespace film::workbench
