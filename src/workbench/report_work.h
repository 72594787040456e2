#pragma once

#include <string>
#include <vector>

#include "workbench/plan_desk.h"

namespace film::workbench {

/// What happened in the shop.
struct WorkReport {
  enum class What {
    started,   ///< a task, by `person` when that was somebody else
    finished,  ///< a task
    delayed,   ///< a task takes `minutes` longer
    redone,    ///< a task, and what followed it, must be done again
    absent,    ///< a person, from `at` until `until`
  };
  What what = What::started;
  std::string job;
  std::string task;
  std::string person;
  std::string at;  ///< wall-clock time; empty: now
  std::string until;
  int minutes = 0;
};

/// Keeps what happened as a fact and plans the rest anew, moving little. Errors: not_found;
/// conflict (finished twice, a vehicle that has moved on); invalid_input; those of plan_anew.
Result<PlanDesk> report_work(Workbench& workbench, const WorkReport& report, const std::string& who,
                             const Context& context);

/// A piece of that part of the job ("front") was spoiled, and is `share` of the part's work: laid
/// already, it and all that has begun after it come again; while it is being laid, that takes
/// longer. Answers with the tasks concerned, none when laying has not begun. The plan is not made
/// anew yet. Errors: conflict (the vehicle has moved on).
Result<std::vector<std::string>> spoil_work(PlanDesk& desk, std::size_t job,
                                            const std::string& part, double share);

}  // namespace film::workbench
