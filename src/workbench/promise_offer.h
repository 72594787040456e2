#pragma once

#include <optional>
#include <string>

#include "base/context.h"
#include "base/result.h"
#include "workbench/price_offer.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// When an offer could be done beside the work that the shop has, by its wall clock.
struct OfferPromise {
  std::optional<std::string> by;       ///< kept with `chance`
  std::optional<std::string> planned;  ///< when all goes as planned
  double chance = 0.9;
  std::string reason;  ///< why there is no date; empty when there is one
};

/// The earliest date that the shop can give its word for, at the price list's chance, every promise
/// given before kept (planning::earliest_promise). A short search: at a click somebody waits. A
/// shop whose people and bays nobody entered has no date, and is told so. Errors: those of
/// plan_desk but the workplace that is missing; not_found (vehicle, panel), io.
Result<OfferPromise> promise_offer(Workbench& workbench, const OfferOrder& order,
                                   const Context& context);

}  // namespace film::workbench
