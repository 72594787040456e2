#pragma once

#include <string_view>

#include "base/context.h"
#include "base/result.h"
#include "exchange/shop_plan_json.h"

namespace film::workbench {

struct PlannedShop {
  exchange::ShopFile file;
  exchange::ShopOutcome outcome;
};

/// Reads a shop with its jobs (docs/formats/plan.md), plans it, has the independent verifier check
/// the plan, looks for a proof that not all promises can be kept, and answers for the urgent job if
/// there is one. Errors: those of the reader and the planner.
Result<PlannedShop> plan_shop(std::string_view bytes, const planning::PromiseOptions& options,
                              const Context& context);

}  // namespace film::workbench
