#include "workbench/detail/job_papers.h"

#include <map>

#include "base/text.h"
#include "exchange/limits_json.h"
#include "shop/caution.h"
#include "shop/names.h"
#include "workbench/job_glass.h"
#include "workbench/lay_out_job.h"
#include "workbench/make_pieces.h"
#include "workbench/study_panel.h"

namespace film::workbench {
namespace {

using shop::Language;

using Numbers = std::map<std::string, std::size_t>;  // panel id to number of its card

Result<documents::PanelCard> card_of(Workbench& workbench, const shop::Job& job,
                                     const shop::VehicleModel& vehicle, const JobPiece& piece,
                                     const std::map<std::string, std::string>& film_names,
                                     Language language, const Context& context) {
  const auto study = study_panel(workbench, job.vehicle, piece.panel, piece.film, context);
  if (!study) return Failure(study.error());
  documents::PanelCard card;
  card.piece = piece.piece.id;
  card.title = piece.piece.name;
  card.zone = piece.piece.zone;
  const auto film = film_names.find(piece.film);
  card.film = film == film_names.end() ? piece.film : film->second;
  card.bulk = piece.method.choice == surface::Choice::bulk;
  const surface::StrainReport& report = (*study)->report;
  card.finger_share = report.area > 0 ? report.finger_area / report.area : 0;
  card.peak_stretch = report.peak_stretch;
  card.remarks = piece.method.reasons;
  const surface::Laying& laying = (*study)->laying;
  card.relief_cuts = laying.relief.cuts.size();
  for (const auto& cut : laying.relief.cuts) card.remarks.push_back(cut.words);
  if (laying.bulk) {
    for (const surface::Anchor& anchor : laying.bulk->anchors) {
      card.anchors.push_back(anchor.on_film);
    }
    for (const surface::Pull& pull : laying.bulk->pulls) {
      card.pulls.push_back({pull.from, pull.to, pull.amount.value, pull.stretch,
                            pull.draws_back.value, pull.direction});
    }
  }
  if (const shop::Panel* panel = shop::find_panel(vehicle, piece.panel)) {
    card.cautions = shop::cautions_for(*panel, language);
  }
  card.fold = piece.piece.fold;
  card.cut = piece.piece.cut;
  card.slits = piece.piece.slits;
  return card;
}

documents::CutMap map_of(const LayoutView& view, const std::string& film_name,
                         const Numbers& numbers) {
  documents::CutMap map;
  map.film = film_name;
  map.roll = view.kept.roll;
  map.width = view.kept.width;
  map.length = view.kept.length;
  map.waste = 1 - view.kept.piece_area / (view.kept.width.value * view.kept.length.value);
  for (const exchange::LaidPiece& piece : view.sheet.pieces) {
    const auto number = numbers.find(piece.item);
    map.pieces.push_back({number == numbers.end() ? 0 : number->second, piece.outline});
  }
  return map;
}

/// Film names with the lot of the roll they are cut from, as far as layouts exist.
Result<std::map<std::string, std::string>> film_words(Workbench& workbench, const JobView& view,
                                                      Language language) {
  std::map<std::string, std::string> words;
  const auto known = films(workbench);
  if (!known) return Failure(known.error());
  for (const shop::Film& film : *known) words[film.id] = film.name;
  const auto stock = rolls(workbench);
  if (!stock) return Failure(stock.error());
  for (const shop::KeptLayout& layout : view.layouts) {
    for (const shop::Roll& roll : *stock) {
      if (roll.id == layout.roll)
        words[layout.film] +=
            format(", {} {}", language == shop::Language::german ? "Charge" : "lot", roll.lot);
    }
  }
  return words;
}

// ---- glass

std::string say(Language language, std::string_view english, std::string_view german) {
  return std::string(language == Language::german ? german : english);
}

std::string reading_words(const std::optional<shop::GlassReading>& reading, Language language) {
  if (!reading) return say(language, "not read", "nicht gemessen");
  std::string words =
      format("{} % (\u00b1 {})", documents::number_text(100 * reading->transmittance, 1, language),
             documents::number_text(100 * reading->uncertainty, 1, language));
  for (const std::string& more :
       {reading->meter, reading->who, documents::date_text(reading->at, language)}) {
    if (!more.empty()) words += ", " + more;
  }
  return words;
}

std::string verdict_words(glazing::Verdict verdict, Language language) {
  switch (verdict) {
    case glazing::Verdict::allowed: return say(language, "allowed", "erlaubt");
    case glazing::Verdict::not_allowed: return say(language, "not allowed", "nicht erlaubt");
    case glazing::Verdict::unknown: return say(language, "unknown", "nicht bekannt");
  }
  return {};
}

/// What the ruling rests on. The kernel's sentence is English; in German the figure alone stands.
std::string reason_words(const glazing::Ruling& ruling, Language language) {
  if (language == Language::english) return ruling.reason;
  if (!ruling.limit || !ruling.limit->least) return {};
  return format("mindestens {} %", documents::number_text(100 * *ruling.limit->least, 0, language));
}

documents::GlassLine line_of(const JobWindow& window,
                             const std::map<std::string, std::string>& films, Language language) {
  documents::GlassLine line{window.name,
                            say(language, "no film", "ohne Folie"),
                            reading_words(window.before, language),
                            reading_words(window.after, language),
                            verdict_words(window.ruling.verdict, language),
                            reason_words(window.ruling, language),
                            {}};
  if (const auto film = films.find(window.film); film != films.end()) line.film = film->second;
  if (const auto& limit = window.ruling.limit) {
    line.law =
        limit->date_read.empty() ? limit->text : format("{} ({})", limit->text, limit->date_read);
  }
  return line;
}

std::string concern_words(shop::Concern concern, Language language) {
  switch (concern) {
    case shop::Concern::lamp: return say(language, "lamp", "Leuchte");
    case shop::Concern::reflector: return say(language, "reflector", "R\u00fcckstrahler");
    case shop::Concern::sensor: return say(language, "sensor", "Sensor");
  }
  return {};
}

}  // namespace

Result<documents::WorkOrder> work_order_of(Workbench& workbench, const JobView& view,
                                           Language language, const Context& context) {
  const auto vehicle = workbench.vehicle(view.job.vehicle, view.job.vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  const auto pieces = make_pieces(workbench, view.job.id, context);
  if (!pieces) return Failure(pieces.error());
  const auto names = film_words(workbench, view, language);
  if (!names) return Failure(names.error());

  documents::WorkOrder order;
  order.job = view.job.id;
  order.title = view.job.title;
  order.vehicle = (*vehicle)->name;
  order.customer = view.job.customer;
  order.date = view.job.created;
  order.cautions = shop::work_cautions(language);
  Numbers numbers;
  for (const JobPiece& piece : pieces->pieces) {
    auto card = card_of(workbench, view.job, **vehicle, piece, *names, language, context);
    if (!card) return Failure(card.error());
    numbers[piece.panel] = order.cards.size() + 1;
    order.cards.push_back(std::move(*card));
  }
  for (const shop::KeptLayout& kept : view.layouts) {
    const auto layout = read_layout(workbench, view.job.id, kept.film, kept.roll);
    if (!layout) return Failure(layout.error());
    order.maps.push_back(map_of(*layout, names->at(kept.film), numbers));
  }
  return order;
}

documents::LabelSheet labels_of(const documents::WorkOrder& order) {
  documents::LabelSheet sheet{order.job, order.vehicle, order.date, {}};
  for (const documents::PanelCard& card : order.cards) {
    sheet.labels.push_back({sheet.labels.size() + 1, card.piece, card.title, card.zone, card.film});
  }
  return sheet;
}

Result<documents::GlassSheet> glass_sheet_of(Workbench& workbench, const JobView& view,
                                             Language language) {
  const auto glass = glass_of_job(workbench, view.job.id);
  if (!glass) return Failure(glass.error());
  const auto vehicle = workbench.vehicle(view.job.vehicle, view.job.vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  const auto films = film_words(workbench, view, language);
  if (!films) return Failure(films.error());
  documents::GlassSheet sheet;
  sheet.job = view.job.id;
  sheet.title = view.job.title;
  sheet.vehicle = (*vehicle)->name;
  sheet.customer = view.job.customer;
  sheet.date = view.job.created;
  sheet.place = glass->place_name;
  for (const JobWindow& window : glass->windows) {
    if (window.film.empty() && !window.before && !window.after) continue;
    sheet.windows.push_back(line_of(window, *films, language));
  }
  for (const shop::Decision& decision : glass->decisions) {
    const shop::Panel* panel = shop::find_panel(**vehicle, decision.panel);
    sheet.decisions.push_back({panel == nullptr ? decision.panel : panel->name,
                               concern_words(decision.concern, language),
                               decision.go_ahead ? say(language, "go ahead", "machen")
                                                 : say(language, "leave bare", "frei lassen"),
                               decision.signed_by, decision.basis, decision.at.substr(0, 10)});
  }
  return sheet;
}

}  // namespace film::workbench
