#include "workbench/trace.h"

#include <algorithm>
#include <map>

#include "base/text.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/detail/steps.h"

namespace film::workbench {
namespace {

/// What took the place of each piece, by its number.
std::map<std::int64_t, std::int64_t> replacements(const std::vector<shop::InstalledPiece>& laid) {
  std::map<std::int64_t, std::int64_t> by;
  for (const shop::InstalledPiece& piece : laid) {
    if (piece.replaces != 0) by[piece.replaces] = piece.number;
  }
  return by;
}

using FilmNames = std::map<std::string, std::string>;

FilmNames film_names(store::Book& book) {
  FilmNames names;
  for (const shop::Film& film : book.films()) names[film.id] = film.name;
  return names;
}

TracedPiece traced(const FilmNames& films, shop::InstalledPiece piece, std::int64_t replaced_by) {
  const auto film = films.find(piece.film);
  std::string name = film == films.end() ? piece.film : film->second;
  return {std::move(piece), {}, std::move(name), replaced_by};
}

/// Names from the vehicle, which is read outside the transaction: it has one of its own.
void name_panels(Workbench& workbench, const shop::Job& job, std::string& vehicle_name,
                 std::vector<TracedPiece>& pieces) {
  const auto vehicle = workbench.vehicle(job.vehicle, job.vehicle_version);
  vehicle_name = vehicle ? (*vehicle)->name : job.vehicle;
  for (TracedPiece& each : pieces) {
    const shop::Panel* panel = vehicle ? shop::find_panel(**vehicle, each.piece.panel) : nullptr;
    each.panel_name = panel == nullptr ? each.piece.panel : panel->name;
  }
}

}  // namespace

Result<JobTrace> trace_job(Workbench& workbench, const std::string& id) {
  auto trace = workbench.store().look([&](store::Book& book) -> Result<JobTrace> {
    auto job = find_job(book, id);
    if (!job) return Failure(job.error());
    JobTrace found;
    found.job = std::move(*job);
    const FilmNames films = film_names(book);
    const auto laid = book.installed_of_job(id);
    const auto off = replacements(laid);
    for (const shop::InstalledPiece& piece : laid) {
      const auto by = off.find(piece.number);
      found.pieces.push_back(traced(films, piece, by == off.end() ? 0 : by->second));
    }
    found.inspections = book.inspections(id);
    found.hand_overs = book.hand_overs(id);
    found.certificates = book.certificates(id);
    found.claims = book.claims(id);
    found.photos = book.photos(id);
    found.steps = steps_done(book, found.job);
    return found;
  });
  if (trace) name_panels(workbench, trace->job, trace->vehicle_name, trace->pieces);
  return trace;
}

Result<LotTrace> trace_lot(Workbench& workbench, const std::string& lot, std::int64_t after,
                           std::size_t most) {
  auto trace = workbench.store().look([&](store::Book& book) -> Result<LotTrace> {
    const auto laid = book.installed_of_lot(lot, after, most);
    if (laid.empty() && after == 0) {
      return fail(ErrorCode::not_found, "no piece of this lot was ever laid", "lot " + lot,
                  "Search for how the lot begins.");
    }
    LotTrace found{lot, {}, laid.size() == most ? laid.back().number : 0};
    const FilmNames films = film_names(book);
    std::map<std::string, std::size_t> places;
    for (const shop::InstalledPiece& piece : laid) {
      const auto [place, is_new] = places.emplace(piece.job, found.vehicles.size());
      if (is_new) {
        auto job = find_job(book, piece.job);
        if (!job) return Failure(job.error());
        found.vehicles.push_back({std::move(*job), {}, {}});
      }
      const auto by = book.replacement_of(piece.number);
      found.vehicles[place->second].pieces.push_back(traced(films, piece, by ? by->number : 0));
    }
    return found;
  });
  if (trace) {
    for (LotVehicle& each : trace->vehicles) {
      name_panels(workbench, each.job, each.vehicle_name, each.pieces);
    }
  }
  return trace;
}

}  // namespace film::workbench
