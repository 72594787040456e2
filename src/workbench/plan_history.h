#pragma once

#include <vector>

#include "base/result.h"
#include "shop/plan_record.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// The newest versions of the plan, without their texts: when, by whom and why each was made.
Result<std::vector<shop::PlanVersion>> plan_history(Workbench& workbench, int most);

}  // namespace film::workbench
