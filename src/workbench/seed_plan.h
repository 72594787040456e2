#pragma once

#include "base/result.h"
#include "workbench/seed_demo.h"

namespace film::workbench {

/// Gives the demo shop people, bays and a plan of three vehicles and the demo's job, if there is
/// one, unless it has a workplace already.
Result<void> seed_plan(Workbench& workbench, const DemoShop& demo);

}  // namespace film::workbench
