#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "cutting/profile.h"
#include "shop/job.h"
#include "shop/kept_layout.h"
#include "shop/vehicle.h"
#include "store/book.h"

namespace film::workbench {

// Records that a use case cannot go on without. Errors: not_found, saying what to do.
Result<shop::Job> find_job(store::Book& book, const std::string& id);
// An empty roll means the first of the film's.
Result<shop::KeptLayout> find_layout(store::Book& book, const shop::Job& job,
                                     const std::string& film, const std::string& roll);
Result<shop::KeptCut> find_cut(store::Book& book, const shop::Job& job, const std::string& film,
                               const std::string& roll);
Result<shop::KnifeProfile> find_profile(store::Book& book, const std::string& id);

/// The film meant: `film`, or the job's main film when it is empty. Errors: not_found, when the
/// job has no such film.
Result<std::string> film_of(const shop::Job& job, const std::string& film);

/// Every panel is on the vehicle, every film in the book, and each film suits its panel. Errors:
/// not_found, invalid_input.
Result<void> check_scope(store::Book& book, const shop::VehicleModel& vehicle,
                         const std::vector<shop::ScopeItem>& scope);

/// Errors with conflict when the job was released or is cancelled: its work stands as it is.
Result<void> check_open(const shop::Job& job);

/// Bare film that every plotter of the shop is content with.
cutting::Margins knife_margins(store::Book& book);

/// The machine with the layout's roll loaded, as it cuts that film.
cutting::MachineProfile loaded(cutting::MachineProfile machine, const shop::KeptLayout& layout);

/// Takes the job to the state that its work gives it and writes the line of history, in one
/// change of the job.
Result<shop::Job> record_work(store::Book& book, shop::Job job, const shop::HistoryEntry& entry);

}  // namespace film::workbench
