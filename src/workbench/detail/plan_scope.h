#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "planning/scope.h"
#include "shop/job.h"
#include "shop/vehicle.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// What a scope on a vehicle asks of the plan: body film by zone, each window and lamp on its own.
/// Hours and their spread come from the hours model with all that the shop has recorded; a panel
/// that was never studied counts by its surface and edges. Errors: io.
Result<planning::Scope> plan_scope(Workbench& workbench, const shop::VehicleModel& vehicle,
                                   const std::vector<shop::ScopeItem>& items);

/// The part of the scope that a panel belongs to, and its share of that part's hours.
struct PanelWork {
  std::string part;
  double share = 1;
};

/// `panel` is one of the vehicle's. Errors: io.
Result<PanelWork> panel_work(Workbench& workbench, const shop::VehicleModel& vehicle,
                             const std::vector<shop::ScopeItem>& items, const shop::Panel& panel);

}  // namespace film::workbench
