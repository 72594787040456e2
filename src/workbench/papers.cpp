#include "workbench/papers.h"

#include <map>

#include "base/text.h"
#include "documents/glass_sheet.h"
#include "documents/work_order.h"
#include "exchange/limits_json.h"
#include "shop/caution.h"
#include "shop/names.h"
#include "workbench/browse.h"
#include "workbench/job_glass.h"
#include "workbench/lay_out_job.h"
#include "workbench/make_pieces.h"
#include "workbench/study_panel.h"

namespace film::workbench {
namespace {

constexpr const char* kWorkOrder = "work-order";
constexpr const char* kGlass = "glass";

using Numbers = std::map<std::string, std::size_t>;  // panel id to number of its card

std::string method_words(const JobPiece& piece, shop::LengthUnit unit) {
  if (piece.method.choice == surface::Choice::precut) return "Pre-cut piece";
  const Box sheet = bounding_box(piece.piece.cut);
  return format("Bulk sheet {} x {}", documents::length_text(Mm{sheet.width()}, unit),
                documents::length_text(Mm{sheet.height()}, unit));
}

Result<documents::PanelCard> card_of(Workbench& workbench, const shop::Job& job,
                                     const shop::VehicleModel& vehicle, const JobPiece& piece,
                                     const std::map<std::string, std::string>& film_names,
                                     shop::LengthUnit unit, const Context& context) {
  const auto study = study_panel(workbench, job.vehicle, piece.panel, piece.film, context);
  if (!study) return tl::unexpected(study.error());
  documents::PanelCard card;
  card.piece = piece.piece.id;
  card.title = piece.piece.name;
  card.zone = piece.piece.zone;
  const auto film = film_names.find(piece.film);
  card.film = film == film_names.end() ? piece.film : film->second;
  card.bulk = piece.method.choice == surface::Choice::bulk;
  card.method = method_words(piece, unit);
  card.reasons = piece.method.reasons;
  const surface::Laying& laying = (*study)->laying;
  for (const auto& cut : laying.relief.cuts) card.reasons.push_back(cut.words);
  if (laying.bulk) {
    card.reasons.insert(card.reasons.end(), laying.bulk->steps.begin(), laying.bulk->steps.end());
  }
  card.stretch = (*study)->report.verdict;
  if (const shop::Panel* panel = shop::find_panel(vehicle, piece.panel)) {
    card.cautions = shop::cautions_for(*panel);
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
Result<std::map<std::string, std::string>> film_words(Workbench& workbench, const JobView& view) {
  std::map<std::string, std::string> words;
  const auto known = films(workbench);
  if (!known) return tl::unexpected(known.error());
  for (const shop::Film& film : *known) words[film.id] = film.name;
  const auto stock = rolls(workbench);
  if (!stock) return tl::unexpected(stock.error());
  for (const shop::KeptLayout& layout : view.layouts) {
    for (const shop::Roll& roll : *stock) {
      if (roll.id == layout.roll) words[layout.film] += ", lot " + roll.lot;
    }
  }
  return words;
}

Result<documents::WorkOrder> work_order_of(Workbench& workbench, const JobView& view,
                                           const shop::Settings& settings, const Context& context) {
  const auto vehicle = workbench.vehicle(view.job.vehicle, view.job.vehicle_version);
  if (!vehicle) return tl::unexpected(vehicle.error());
  const auto pieces = make_pieces(workbench, view.job.id, context);
  if (!pieces) return tl::unexpected(pieces.error());
  const auto names = film_words(workbench, view);
  if (!names) return tl::unexpected(names.error());

  documents::WorkOrder order;
  order.shop = settings.name;
  order.job = view.job.id;
  order.title = view.job.title;
  order.vehicle = (*vehicle)->name;
  order.customer = view.job.customer;
  order.date = view.job.created;
  order.address = "filmwright:job/" + view.job.id;
  order.cautions = shop::work_cautions();
  Numbers numbers;
  for (const JobPiece& piece : pieces->pieces) {
    auto card =
        card_of(workbench, view.job, **vehicle, piece, *names, settings.length_unit, context);
    if (!card) return tl::unexpected(card.error());
    numbers[piece.panel] = order.cards.size() + 1;
    order.cards.push_back(std::move(*card));
  }
  for (const shop::KeptLayout& kept : view.layouts) {
    const auto layout = read_layout(workbench, view.job.id, kept.film, kept.roll);
    if (!layout) return tl::unexpected(layout.error());
    order.maps.push_back(map_of(*layout, names->at(kept.film), numbers));
  }
  return order;
}

std::string reading_words(const std::optional<shop::GlassReading>& reading) {
  if (!reading) return "not read";
  std::string words =
      format("{:.1f} % (+- {:.1f})", 100 * reading->transmittance, 100 * reading->uncertainty);
  for (const std::string& more : {reading->meter, reading->who, reading->at.substr(0, 10)}) {
    if (!more.empty()) words += ", " + more;
  }
  return words;
}

std::string verdict_words(glazing::Verdict verdict) {
  return verdict == glazing::Verdict::not_allowed ? "not allowed"
                                                  : std::string(exchange::word_for(verdict));
}

documents::GlassLine line_of(const JobWindow& window,
                             const std::map<std::string, std::string>& films) {
  documents::GlassLine line{window.name,
                            "no film",
                            reading_words(window.before),
                            reading_words(window.after),
                            verdict_words(window.ruling.verdict),
                            window.ruling.reason,
                            {}};
  if (const auto film = films.find(window.film); film != films.end()) line.film = film->second;
  if (const auto& limit = window.ruling.limit) {
    line.law = format("{} ({}{}{})", limit->text, exchange::word_for(limit->confidence),
                      limit->date_read.empty() ? "" : ", ", limit->date_read);
  }
  return line;
}

Result<documents::GlassSheet> glass_sheet_of(Workbench& workbench, const JobView& view,
                                             const shop::Settings& settings) {
  const auto glass = glass_of_job(workbench, view.job.id);
  if (!glass) return Failure(glass.error());
  const auto vehicle = workbench.vehicle(view.job.vehicle, view.job.vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  const auto films = film_words(workbench, view);
  if (!films) return Failure(films.error());
  documents::GlassSheet sheet;
  sheet.shop = settings.name;
  sheet.job = view.job.id;
  sheet.title = view.job.title;
  sheet.vehicle = (*vehicle)->name;
  sheet.customer = view.job.customer;
  sheet.date = view.job.created;
  sheet.place = glass->place_name;
  sheet.no_advice = glazing::no_advice();
  sheet.lamp_caution = glazing::lamp_caution();
  for (const JobWindow& window : glass->windows) {
    if (window.film.empty() && !window.before && !window.after) continue;
    sheet.windows.push_back(line_of(window, *films));
  }
  for (const shop::Decision& decision : glass->decisions) {
    const shop::Panel* panel = shop::find_panel(**vehicle, decision.panel);
    sheet.decisions.push_back({panel == nullptr ? decision.panel : panel->name,
                               std::string(shop::name_of(decision.concern)),
                               decision.go_ahead ? "go ahead" : "leave bare", decision.signed_by,
                               decision.basis, decision.at.substr(0, 10)});
  }
  return sheet;
}

}  // namespace

Result<std::vector<PaperLine>> papers(Workbench& workbench, const std::string& job_id) {
  const auto view = job(workbench, job_id);
  if (!view) return tl::unexpected(view.error());
  return std::vector<PaperLine>{{kWorkOrder, "Work order"}, {kGlass, "Glass and lamps"}};
}

Result<std::string> write_paper(Workbench& workbench, const std::string& job_id,
                                const std::string& paper) {
  if (paper != kWorkOrder && paper != kGlass) {
    return fail(ErrorCode::not_found, "there is no such paper", paper,
                "Ask for work-order or glass");
  }
  const auto view = job(workbench, job_id);
  if (!view) return tl::unexpected(view.error());
  const auto settings = shop_settings(workbench);
  if (!settings) return tl::unexpected(settings.error());
  documents::WorkOrderOptions options;
  options.unit = settings->length_unit;
  options.paper = settings->length_unit == shop::LengthUnit::inch ? documents::Paper::letter
                                                                  : documents::Paper::a4;
  if (paper == kGlass) {
    const auto sheet = glass_sheet_of(workbench, *view, *settings);
    if (!sheet) return Failure(sheet.error());
    return documents::write_glass_sheet(*sheet, options);
  }
  const auto order = work_order_of(workbench, *view, *settings, {});
  if (!order) return tl::unexpected(order.error());
  return documents::write_work_order(*order, options);
}

}  // namespace film::workbench
