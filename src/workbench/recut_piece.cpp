#include "workbench/recut_piece.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "cutting/program.h"
#include "exchange/cut_json.h"
#include "exchange/piece_json.h"
#include "exchange/profile_json.h"
#include "shop/names.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/piece_layout.h"

namespace film::workbench {
namespace {

/// What is known of the piece before film is looked for.
struct Wanted {
  pattern::Piece piece;  ///< as it was laid
  shop::KeptLayout layout;
  shop::KnifeProfile profile;
  FilmSearch search;
  std::vector<shop::Offcut> offcuts;
  std::vector<shop::Roll> rolls;
};

/// The piece and the layout that it lies in.
Result<std::pair<pattern::Piece, shop::KeptLayout>> laid_piece(store::Book& book,
                                                               const shop::Job& job,
                                                               const std::string& id) {
  for (shop::KeptLayout& layout : book.layouts(job.id)) {
    const auto sheet_bytes = book.blob(layout.sheet);
    if (!sheet_bytes) return Failure(sheet_bytes.error());
    const auto sheet = exchange::read_layout_sheet(*sheet_bytes);
    if (!sheet) return Failure(sheet.error());
    const bool here = std::any_of(sheet->pieces.begin(), sheet->pieces.end(),
                                  [&id](const auto& laid) { return laid.item == id; });
    if (!here) continue;
    const auto bytes = book.blob(layout.pieces);
    if (!bytes) return Failure(bytes.error());
    auto pieces = exchange::read_pieces(*bytes);
    if (!pieces) return Failure(pieces.error());
    for (pattern::Piece& piece : *pieces) {
      if (piece.id == id) return std::pair(std::move(piece), std::move(layout));
    }
  }
  return fail(ErrorCode::not_found, "no such piece was laid", "job " + job.id + " piece " + id,
              "Choose one of the pieces of the job's layouts.");
}

Result<shop::KnifeProfile> machine_for(store::Book& book, const shop::KeptLayout& layout,
                                       const std::string& profile) {
  if (!profile.empty()) return find_profile(book, profile);
  for (const shop::KeptCut& cut : book.cuts(layout.job)) {
    if (cut.film == layout.film && cut.roll == layout.roll) return find_profile(book, cut.profile);
  }
  auto profiles = book.profiles();
  if (!profiles.empty()) return std::move(profiles.front());
  return find_profile(book, profile);
}

Result<Wanted> wanted(store::Book& book, const std::string& job_id, const std::string& piece,
                      const std::string& profile) {
  const auto job = find_job(book, job_id);
  if (!job) return Failure(job.error());
  if (job->state == shop::JobState::cancelled) {
    return fail(ErrorCode::conflict, "the job is cancelled", "job " + job_id,
                "Open a new job for the piece.");
  }
  auto found = laid_piece(book, *job, piece);
  if (!found) return Failure(found.error());
  auto machine = machine_for(book, found->second, profile);
  if (!machine) return Failure(machine.error());
  Wanted wanted{std::move(found->first), std::move(found->second), std::move(*machine), {}, {}, {}};
  const cutting::Margins& margins = wanted.profile.settings.margins;
  wanted.search.piece = items_of(std::span(&wanted.piece, 1)).front();
  wanted.search.film = wanted.layout.film;
  wanted.search.gap = book.settings().value_or(shop::Settings{}).piece_gap.value;
  wanted.search.margins = {margins.lead.value, margins.trail.value, margins.low.value,
                           margins.high.value};
  if (const auto roll = book.roll(wanted.layout.roll)) wanted.search.lot = roll->lot;
  const Mm widest = wanted.profile.settings.media_width;
  for (shop::Offcut& offcut : book.offcuts()) {
    if (shop::as_roll(offcut).width <= widest) wanted.offcuts.push_back(std::move(offcut));
  }
  for (shop::Roll& roll : book.rolls()) {
    if (roll.width <= widest) wanted.rolls.push_back(std::move(roll));
  }
  return wanted;
}

/// The place on the stock asked for, or the cheapest.
Result<FilmPlace> choose(std::vector<FilmPlace> places, const RecutOrder& order) {
  for (FilmPlace& place : places) {
    if (order.stock.empty() || place.film.id == order.stock) return std::move(place);
  }
  return fail(
      ErrorCode::unsupported,
      order.stock.empty() ? "no film at hand takes the piece" : "the piece does not fit there",
      format("piece {}{}{}", order.piece, order.stock.empty() ? "" : " on ", order.stock),
      "Receive film that is wide enough, or choose another place.");
}

/// Where to look: everywhere, or only where the order says.
Result<std::vector<FilmPlace>> places(Wanted& wanted, const std::string& stock,
                                      const Context& context) {
  if (!stock.empty()) {
    const auto elsewhere = [&stock](const auto& film) { return film.id != stock; };
    std::erase_if(wanted.offcuts, elsewhere);
    std::erase_if(wanted.rolls, elsewhere);
  }
  return places_for(wanted.search, wanted.offcuts, wanted.rolls, context);
}

struct Planned {
  exchange::LayoutSheet sheet;
  cutting::MachineProfile machine;
  cutting::CutPlan plan;
  std::string plot;
};

Result<Planned> plan_place(const Wanted& wanted, const FilmPlace& place, const Context& context) {
  Planned planned;
  planned.sheet = exchange::make_sheet(place.problem, place.solution);
  carry_slits(std::span(&wanted.piece, 1), planned.sheet);
  exchange::LaidPiece& laid = planned.sheet.pieces.front();
  laid.label = wanted.piece.name;
  shop::KeptLayout layout;
  layout.film = wanted.layout.film;
  layout.width = place.film.width;
  planned.machine = loaded(wanted.profile.settings, layout);
  cutting::CutJob job;
  job.length = Mm{place.solution.length};
  job.shapes.push_back({laid.item, laid.outline, laid.slits, laid.zone});
  auto plan = cutting::plan_cut(job, planned.machine, {}, context);
  if (!plan) return Failure(plan.error());
  planned.plan = std::move(*plan);
  auto plot = cutting::emit_hpgl(planned.plan, planned.machine);
  if (!plot) return Failure(plot.error());
  planned.plot = std::move(*plot);
  return planned;
}

/// Books the film of the place. An offcut goes whole.
Result<Mm> book_film(store::Book& book, const FilmPlace& place, const RecutOrder& order,
                     const std::string& why, const std::string& at) {
  const auto roll = book.roll(place.film.id);
  if (!roll || roll->remaining != place.film.remaining) {
    return fail(ErrorCode::conflict, "the film was used elsewhere meanwhile",
                "roll " + place.film.id, "Ask for the recut again.");
  }
  const Mm used = place.offcut ? roll->remaining : shop::booked(Mm{place.solution.length});
  auto line = shop::cut(*roll, used, order.job);
  if (!line) return Failure(line.error());
  line->who = order.who;
  line->why = why;
  line->at = at;
  if (auto done = book.enter(*line); !done) return Failure(done.error());
  return used;
}

/// The piece that is to be cut again for the claim.
Result<shop::InstalledPiece> claimed_piece(store::Book& book, const std::string& id) {
  const std::string where = "claim " + id;
  const auto record = book.claim(id);
  if (!record) {
    return fail(ErrorCode::not_found, "there is no such claim", where,
                "Choose one of the claims in the book.");
  }
  if (record->rulings.empty() || !record->rulings.back().recut) {
    return fail(ErrorCode::conflict, "nobody decided that the piece is made again", where,
                "Decide on the claim first.");
  }
  if (const auto recuts = book.recuts_for_claim(id); !recuts.empty()) {
    return fail(ErrorCode::conflict, "the piece was cut again already: " + recuts.back().id, where,
                "Cut it from its job where that recut was spoiled as well.");
  }
  auto piece = book.installed(record->claim.piece);
  if (!piece || piece->piece.empty()) {
    return fail(ErrorCode::unsupported, "the piece was not pre-cut", where,
                "Cut a bulk sheet for the panel by hand, and book the film.");
  }
  return std::move(*piece);
}

/// The run that sends the recut to its machine. Its film is booked already.
Result<std::string> add_run(store::Book& book, const Wanted& wanted, const Planned& planned,
                            const shop::Recut& recut) {
  shop::CutRun run;
  run.job = recut.job;
  run.film = recut.film;
  run.roll = recut.stock;
  run.machine = wanted.profile.id;
  run.plan = book.put_blob(exchange::write_cut_plan(planned.plan));
  run.profile = book.put_blob(exchange::write_profile(planned.machine));
  run.contours = planned.plan.contours.size();
  run.used = recut.used;
  run.started = recut.at;
  auto added = book.add(std::move(run));
  if (!added) return Failure(added.error());
  book.update(*added);
  return added->id;
}

shop::Offcut rest_of(const FilmPlace& place, const Box& box, const std::string& day) {
  shop::Offcut offcut;
  offcut.film = place.film.film;
  offcut.lot = place.film.lot;
  offcut.outline = {{{0, 0}, {box.width(), 0}, {box.width(), box.height()}, {0, box.height()}}, {}};
  offcut.from = place.film.id;
  offcut.kept = day;
  offcut.place = place.film.place;
  return offcut;
}

}  // namespace

Result<std::vector<FilmPlace>> recut_places(Workbench& workbench, const std::string& job,
                                            const std::string& piece, const std::string& profile,
                                            const Context& context) {
  auto found =
      workbench.store().look([&](store::Book& book) { return wanted(book, job, piece, profile); });
  if (!found) return Failure(found.error());
  return places(*found, "", context);
}

Result<RecutView> recut_piece(Workbench& workbench, const RecutOrder& order,
                              const Context& context) {
  auto found = workbench.store().look(
      [&](store::Book& book) { return wanted(book, order.job, order.piece, order.profile); });
  if (!found) return Failure(found.error());
  auto candidates = places(*found, order.stock, context);
  if (!candidates) return Failure(candidates.error());
  const auto place = choose(*std::move(candidates), order);
  if (!place) return Failure(place.error());
  auto planned = plan_place(*found, *place, context);
  if (!planned) return Failure(planned.error());

  RecutView view;
  view.offcut = place->offcut;
  view.profile = found->profile.id;
  view.address = found->profile.settings.link.address;
  const std::string sheet = exchange::write_layout_sheet(planned->sheet);
  return workbench.store().change([&](store::Book& book) -> Result<RecutView> {
    shop::Recut recut;
    recut.job = order.job;
    recut.piece = order.piece;
    recut.film = found->layout.film;
    recut.stock = place->film.id;
    recut.lot = place->film.lot;
    recut.reason = order.reason;
    recut.note = order.note;
    recut.claim = order.claim;
    if (!order.claim.empty()) {  // somebody else may have been quicker
      if (auto open = claimed_piece(book, order.claim); !open) return Failure(open.error());
    }
    recut.area = layout::area_of(place->problem) + place->waste;
    recut.who = order.who;
    recut.at = now();
    std::string words = format("{}: {}{}{}", order.piece, shop::name_of(order.reason),
                               order.note.empty() ? "" : ", ", order.note);
    if (!order.claim.empty()) words += ", claim " + order.claim;
    const auto used = book_film(book, *place, order, "recut of " + words, recut.at);
    if (!used) return Failure(used.error());
    recut.used = *used;
    recut.sheet = book.put_blob(sheet);
    recut.plot = book.put_blob(planned->plot);
    if (!view.address.empty()) {
      auto run = add_run(book, *found, *planned, recut);
      if (!run) return Failure(run.error());
      recut.run = std::move(*run);
    }
    view.record = book.add(std::move(recut));
    for (const Box& box : place->rests) {
      if (!order.keep_rests) break;
      const shop::Offcut rest = rest_of(*place, box, view.record.at.substr(0, 10));
      view.kept.push_back(book.add(rest, order.who, view.record.at).id);
    }
    book.append(order.job,
                {view.record.at, order.who, "recut",
                 format("{}, {}; {:.0f} mm of {} {}, lot {}", view.record.id, words, used->value,
                        place->offcut ? "offcut" : "roll", place->film.id, place->film.lot)});
    view.sheet = std::move(planned->sheet);
    view.plan = std::move(planned->plan);
    return std::move(view);
  });
}

Result<RecutView> recut_claim(Workbench& workbench, RecutOrder order, const Context& context) {
  const auto piece = workbench.store().look(
      [&order](store::Book& book) { return claimed_piece(book, order.claim); });
  if (!piece) return Failure(piece.error());
  order.job = piece->job;
  order.piece = piece->piece;
  return recut_piece(workbench, order, context);
}

Result<std::vector<shop::Recut>> recuts_of(Workbench& workbench, const std::string& job) {
  return workbench.store().look([&](store::Book& book) -> Result<std::vector<shop::Recut>> {
    if (!job.empty()) {
      if (auto found = find_job(book, job); !found) return Failure(found.error());
    }
    return book.recuts(job);
  });
}

Result<std::string> recut_plot(Workbench& workbench, const std::string& id) {
  return workbench.store().look([&](store::Book& book) -> Result<std::string> {
    const auto recut = book.recut(id);
    if (!recut) {
      return fail(ErrorCode::not_found, "there is no such recut", "recut " + id,
                  "Choose one of the recuts of the job.");
    }
    return book.blob(recut->plot);
  });
}

}  // namespace film::workbench
