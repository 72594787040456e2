#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "exchange/shop_plan_json.h"
#include "shop/plan_record.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// The shop's plan as it stands now, ready to be asked and changed.
struct PlanDesk {
  exchange::ShopFile file;  ///< its `running` is the plan that people work by
  planning::Time now = 0;
  std::int64_t version = 0;  ///< of the plan; 0: none was made yet
  std::string made;          ///< RFC 3339
  std::int64_t workplace_revision = 0;
  std::vector<std::string> warnings;  ///< what the plan cannot mend: a window that has passed
};

/// The plan with the clock's time: a wait whose task before it is done has begun by itself, what
/// has begun and is not reported done goes on. Errors: not_found (no workplace yet), those of the
/// reader.
Result<PlanDesk> plan_desk(Workbench& workbench);

/// How sure each job's promise is, by simulation: the share of runs that keep it (1 without one),
/// and the time kept in nine of ten runs.
struct Surety {
  double chance = 1;
  planning::Time sure = planning::kNever;
};
std::vector<Surety> sureties(const PlanDesk& desk);

/// The jobs as the planner takes them: a promise that has passed counts as one for now, so that it
/// is still the first to be worked for.
std::vector<planning::Job> plannable(const PlanDesk& desk);

/// Plans anew from what stands, moving little, and keeps the plan as the next version once the
/// independent verifier has passed it. Errors: those of the planner; conflict when another version
/// was kept meanwhile, or the verifier refuses the plan.
Result<void> plan_anew(Workbench& workbench, PlanDesk& desk, const std::string& what,
                       const std::string& who, const Context& context);
/// Keeps the desk's plan as it is. Errors: conflict, as above.
Result<void> keep_plan(Workbench& workbench, PlanDesk& desk, const std::string& what,
                       const std::string& who);

/// A task that has begun, or ended, stands in the plan where it is, and the vehicle in its bay.
void fix_task(exchange::ShopFile& file, std::size_t j, std::size_t i, planning::Slot slot);

/// Place of a job, or of one of its tasks, by name. Errors: not_found.
Result<std::size_t> job_named(const PlanDesk& desk, const std::string& id);
Result<std::size_t> task_named(const planning::Job& job, const std::string& id);
Result<std::size_t> person_named(const PlanDesk& desk, const std::string& id);

/// Replaces the workplace. Errors: invalid_input and not_found (what it or the standing plan needs
/// is missing, named); conflict (an outdated revision).
Result<void> set_workplace(Workbench& workbench, shop::Workplace workplace);
/// The same, and plans the standing work anew under it, moving little. The workplace stays changed
/// when that is refused. Errors: those of both.
Result<void> change_workplace(Workbench& workbench, shop::Workplace workplace,
                              const std::string& who, const Context& context);
/// Its way of working written out. Errors: not_found (nobody has entered one), io.
Result<shop::Workplace> workplace(Workbench& workbench);

/// Sets the clock of a demo shop to a wall-clock time. Errors: conflict, when this is a real shop.
Result<void> set_demo_clock(Workbench& workbench, const std::string& time);

}  // namespace film::workbench
