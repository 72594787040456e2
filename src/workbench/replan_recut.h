#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/context.h"
#include "planning/promise.h"
#include "shop/recut.h"
#include "workbench/plan_desk.h"

namespace film::workbench {

/// What a piece cut again did to the plan.
struct RecutReplan {
  std::vector<std::string> again;     ///< tasks that come again, or take longer
  std::size_t moved = 0;              ///< open tasks of other vehicles that stand elsewhere now
  std::size_t open = 0;               ///< of so many
  std::vector<planning::Slip> slips;  ///< promises newly broken; jobs of `desk`
  std::string end;                    ///< of the vehicle, by the shop's wall clock
  std::string refused;                ///< why the plan stays as it was; empty when it changed
  PlanDesk desk;
};

/// The laying of a piece that was cut again comes again in the plan, with as much of its part's
/// hours as the piece takes, and the rest moves little. Nothing when the job is not in the plan, or
/// the piece has not been laid yet.
std::optional<RecutReplan> replan_recut(Workbench& workbench, const shop::Recut& recut,
                                        const std::string& who, const Context& context);

}  // namespace film::workbench
