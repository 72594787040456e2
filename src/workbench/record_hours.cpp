#include "workbench/record_hours.h"

#include <algorithm>

#include "base/text.h"
#include "store/store.h"
#include "workbench/detail/learnt.h"
#include "workbench/detail/lookup.h"
#include "workbench/detail/piece_facts.h"
#include "workbench/price_list.h"

namespace film::workbench {
namespace {

/// The record taken back, as one that strikes it.
Result<shop::Worked> striking(const std::vector<shop::Worked>& known, const HoursEntry& entry) {
  const auto find = [&](auto is_it) { return std::find_if(known.begin(), known.end(), is_it); };
  const std::string where = format("hours {} of job {}", entry.strikes, entry.job);
  const auto found =
      find([&](const shop::Worked& worked) { return worked.entry == entry.strikes; });
  if (found == known.end() || found->strikes != 0) {
    return fail(ErrorCode::not_found, "there is no such record of hours", where,
                "Choose one of the job's records.");
  }
  if (find([&](const shop::Worked& w) { return w.strikes == entry.strikes; }) != known.end()) {
    return fail(ErrorCode::conflict, "this record was taken back already", where,
                "Look at the job's hours as they are now.");
  }
  shop::Worked worked = *found;
  worked.strikes = entry.strikes;
  worked.note = entry.note;
  return worked;
}

/// What laying the panel of the job took, or what its surface says where no piece can be made.
Result<hours::Amounts> amounts_laid(Workbench& workbench, const shop::Job& job,
                                    const std::string& panel_id, const Context& context) {
  const auto item = std::find_if(job.scope.begin(), job.scope.end(),
                                 [&](const auto& each) { return each.panel == panel_id; });
  if (item == job.scope.end()) {
    return fail(ErrorCode::not_found, "the job does not cover this panel",
                format("job {} panel {}", job.id, panel_id), "Choose a panel of its scope.");
  }
  const auto vehicle = workbench.vehicle(job.vehicle, job.vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  const shop::Panel* panel = shop::find_panel(**vehicle, panel_id);
  if (panel == nullptr) {
    return fail(ErrorCode::not_found, "the vehicle has no such panel", "panel " + panel_id,
                "Choose one of its panels.");
  }
  const auto terms = study_terms(workbench, job.vehicle, job.vehicle_version, item->film);
  if (!terms) return amounts_of_surface(*panel);
  const auto margins =
      workbench.store().look([](store::Book& book) { return knife_margins(book); });
  if (!margins) return Failure(margins.error());
  const auto facts = piece_facts(workbench, *terms, margins->low + margins->high, *panel,
                                 Studying::as_needed, context);
  if (facts) return (*facts)->amounts;
  if (facts.error().code == ErrorCode::cancelled) return Failure(facts.error());
  return amounts_of_surface(*panel);
}

}  // namespace

Result<shop::Worked> record_hours(Workbench& workbench, const HoursEntry& entry,
                                  const Context& context) {
  const auto job =
      workbench.store().look([&](store::Book& book) { return find_job(book, entry.job); });
  if (!job) return Failure(job.error());
  shop::Worked worked;
  worked.job = entry.job;
  worked.task = entry.task;
  worked.piece = entry.piece;
  worked.who = entry.who;
  worked.minutes = entry.minutes;
  worked.note = entry.note;
  if (entry.strikes == 0) {
    if (auto sound = shop::check(worked); !sound) return Failure(sound.error());
    if (entry.task == shop::Task::laying) {
      auto amounts = amounts_laid(workbench, *job, entry.piece, context);
      if (!amounts) return Failure(amounts.error());
      worked.amounts = *amounts;
    }
  }
  return workbench.store().change([&](store::Book& book) -> Result<shop::Worked> {
    if (entry.strikes != 0) {
      auto strike = striking(book.worked(entry.job), entry);
      if (!strike) return strike;
      worked = std::move(*strike);
    }
    worked.at = now();
    return book.append(worked);
  });
}

Result<std::vector<shop::Worked>> hours_of(Workbench& workbench, const std::string& job) {
  return workbench.store().look([&](store::Book& book) -> Result<std::vector<shop::Worked>> {
    if (auto found = find_job(book, job); !found) return Failure(found.error());
    return book.worked(job);
  });
}

Result<LearntHours> learnt_hours(Workbench& workbench) {
  const auto list = price_list(workbench);
  if (!list) return Failure(list.error());
  const auto learnt = learnt_model(workbench, list->hours);
  if (!learnt) return Failure(learnt.error());
  const hours::Model& model = (*learnt)->model;
  return LearntHours{list->hours.minutes, model.minutes_per_unit(), model.paces(), model.records(),
                     model.noise()};
}

}  // namespace film::workbench
