#include "workbench/detail/lookup.h"

#include <algorithm>
#include <map>

#include "base/text.h"
#include "shop/names.h"

namespace film::workbench {
namespace {

std::string place_of(const shop::Job& job, const std::string& film, const std::string& roll) {
  return format("job {} film {}{}{}", job.id, film, roll.empty() ? "" : " roll ", roll);
}

}  // namespace

Result<shop::Job> find_job(store::Book& book, const std::string& id) {
  if (auto job = book.job(id)) return std::move(*job);
  return fail(ErrorCode::not_found, "there is no such job", "job " + id,
              "Choose one of the jobs in the book.");
}

Result<shop::KeptLayout> find_layout(store::Book& book, const shop::Job& job,
                                     const std::string& film, const std::string& roll) {
  for (auto& layout : book.layouts(job.id)) {
    if (layout.film == film && (roll.empty() || layout.roll == roll)) return std::move(layout);
  }
  return fail(ErrorCode::not_found, "nothing is laid out yet", place_of(job, film, roll),
              "Lay the job out first.");
}

Result<shop::KeptCut> find_cut(store::Book& book, const shop::Job& job, const std::string& film,
                               const std::string& roll) {
  for (auto& cut : book.cuts(job.id)) {
    if (cut.film == film && (roll.empty() || cut.roll == roll)) return std::move(cut);
  }
  return fail(ErrorCode::not_found, "there is no knife path yet", place_of(job, film, roll),
              "Plan the knife path first.");
}

Result<shop::KnifeProfile> find_profile(store::Book& book, const std::string& id) {
  if (auto profile = book.profile(id)) return std::move(*profile);
  return fail(ErrorCode::not_found, "there is no such knife profile", "profile " + id,
              "Choose one of the profiles in the book.");
}

Result<std::string> film_of(const shop::Job& job, const std::string& film) {
  const auto films = shop::films_of(job);
  if (film.empty()) return films.front();
  if (std::find(films.begin(), films.end(), film) != films.end()) return film;
  return fail(ErrorCode::not_found, "the job uses no such film",
              format("job {} film {}", job.id, film), "Choose one of the job's films.");
}

Result<void> check_open(const shop::Job& job) {
  if (!shop::is_past_planning(job.state)) return {};
  return fail(ErrorCode::conflict,
              format("the job is {}; its work stands as it is", shop::name_of(job.state)),
              "job " + job.id,
              job.state == shop::JobState::released
                  ? "Move it back to scoped, with the reason, to do it again."
                  : "Open a new job.");
}

cutting::Margins knife_margins(store::Book& book) {
  const auto profiles = book.profiles();
  if (profiles.empty()) return {};
  cutting::Margins most = profiles.front().settings.margins;
  for (const auto& profile : profiles) {
    const cutting::Margins& margins = profile.settings.margins;
    most.lead = std::max(most.lead, margins.lead);
    most.trail = std::max(most.trail, margins.trail);
    most.low = std::max(most.low, margins.low);
    most.high = std::max(most.high, margins.high);
  }
  return most;
}

cutting::MachineProfile loaded(cutting::MachineProfile machine, const shop::KeptLayout& layout) {
  machine = cutting::for_film(std::move(machine), layout.film);
  machine.media_width = layout.width;
  return machine;
}

namespace {

/// A film is laid out with all its pieces at once, and cut when each of its layouts has a path.
shop::Readiness readiness_of(store::Book& book, const shop::Job& job) {
  const auto layouts = book.layouts(job.id);
  const auto cuts = book.cuts(job.id);
  shop::Readiness readiness;
  for (const std::string& film : shop::films_of(job)) {
    const auto of_film = [&film](const auto& record) { return record.film == film; };
    const auto laid = std::count_if(layouts.begin(), layouts.end(), of_film);
    const auto planned = std::count_if(cuts.begin(), cuts.end(), of_film);
    ++readiness.films;
    if (laid > 0) ++readiness.layouts;
    if (laid > 0 && planned == laid) ++readiness.cuts;
  }
  return readiness;
}

}  // namespace

Result<shop::Job> record_work(store::Book& book, shop::Job job, const shop::HistoryEntry& entry) {
  const shop::Readiness readiness = readiness_of(book, job);
  job.state = shop::state_by_work(job, readiness);
  ++job.revision;
  if (auto updated = book.update(job); !updated) return Failure(updated.error());
  book.append(job.id, entry);
  return job;
}

Result<void> check_scope(store::Book& book, const shop::VehicleModel& vehicle,
                         const std::vector<shop::ScopeItem>& scope) {
  std::map<std::string, const shop::Panel*> panels;
  for (const auto& panel : vehicle.panels) panels[panel.id] = &panel;
  std::map<std::string, shop::Film> films;
  for (auto& film : book.films()) films.emplace(film.id, std::move(film));
  for (const auto& item : scope) {
    const auto panel = panels.find(item.panel);
    if (panel == panels.end()) {
      return fail(ErrorCode::not_found, "the vehicle has no such panel", "scope " + item.panel,
                  "Choose panels of the vehicle.");
    }
    const auto film = films.find(item.film);
    if (film == films.end()) {
      return fail(ErrorCode::not_found, format("there is no film '{}'", item.film),
                  "scope " + item.panel, "Choose one of the films in the book.");
    }
    if (!shop::suits(film->second, *panel->second)) {
      return fail(
          ErrorCode::invalid_input,
          format("{} is not made for {}", film->second.name, shop::name_of(panel->second->finish)),
          "scope " + item.panel, "Choose a film that suits the panel's finish.");
    }
  }
  return {};
}

}  // namespace film::workbench
