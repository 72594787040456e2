#pragma once

#include <string>
#include <vector>

#include "shop/job.h"
#include "shop/vehicle.h"
#include "workbench/plan_desk.h"

namespace film::workbench {

/// Work for the plan: a job of the book, or what `text` says in the form of `jobs[]` of
/// docs/formats/plan.md. Times by the shop's wall clock.
struct PlanOrder {
  std::string job;      ///< id of a job in the book; empty: see text
  std::string text;     ///< used when `job` is empty
  std::string arrives;  ///< empty: now
  std::string promise;  ///< empty: nothing is promised
  double weight = 1;
  double correction_hours = 0;
  int coats = 0;
};

/// The order as the planner takes it, with its title. The scope of a job in the book becomes zones,
/// windows and lamps of its vehicle; hours and their spread come from the hours model with all it
/// has learnt, panels of a square metre and more are laid by two. Errors: not_found, invalid_input.
Result<std::pair<planning::Job, std::string>> planned_work(Workbench& workbench,
                                                           const PlanDesk& desk,
                                                           const PlanOrder& order);

/// What a plan asks about beside the scope.
struct PlanExtras {
  double correction_hours = 0;
  int coats = 0;
};

/// A scope on a vehicle as the planner takes it. Errors: those of planning::job_of, io.
Result<planning::Job> work_on(Workbench& workbench, const PlanDesk& desk,
                              const shop::VehicleModel& vehicle,
                              const std::vector<shop::ScopeItem>& items, const PlanExtras& extras,
                              std::string id);

/// Books the order into the plan, moving little, or changes times and promise of one that is
/// there. Errors: those of planned_work and plan_anew.
Result<PlanDesk> book_plan_job(Workbench& workbench, const PlanOrder& order, const std::string& who,
                               const Context& context);

/// Takes a job whose work has not begun out of the plan. Errors: not_found, conflict (it has
/// begun).
Result<PlanDesk> drop_plan_job(Workbench& workbench, const std::string& job, const std::string& who,
                               const Context& context);

}  // namespace film::workbench
