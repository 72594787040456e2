#pragma once

#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "shop/decision.h"
#include "shop/price.h"
#include "shop/scope_rules.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// What is to be covered with what.
struct OfferOrder {
  std::string vehicle;
  int vehicle_version = 0;  ///< 0: the newest
  std::vector<shop::ScopeItem> scope;
  bool coating = false;  ///< over all painted surfaces of the scope
  shop::Discount discount;
  std::string installer;  ///< who will lay it; empty: whoever
  /// Study panels that nobody studied yet, which may take seconds each; otherwise they are reckoned
  /// by area and told in `waiting`.
  bool study = false;
};

struct PricedOffer {
  int vehicle_version = 1;
  std::int64_t price_list = 0;  ///< revision
  std::string currency;
  shop::WorkNeed work;
  shop::Price price;
  std::vector<shop::OpenConcern> concerns;  ///< what must be signed before the work
  std::vector<shop::ScopeItem> waiting;     ///< not studied yet, reckoned by area
};

/// Reckons film, time and price of an offer. Film comes from a quick layout of the real pieces on
/// the film at hand, offcuts first where they pay, labour from the pieces' features and recorded
/// hours. An empty scope costs nothing. Once its panels are studied an offer takes a fraction of a
/// second: what was laid out before is remembered. Errors: not_found (vehicle, panel, film),
/// invalid_input (a film that does not suit a panel, a panel that is there twice, a discount out of
/// range), too_large, cancelled, io.
Result<PricedOffer> price_offer(Workbench& workbench, const OfferOrder& order,
                                const Context& context);

/// What a package in a look covers on the vehicle, with reasons; panels stay bare where `film` is
/// empty. Errors: not_found (vehicle, package, look), io.
Result<std::vector<shop::Proposal>> propose_scope(Workbench& workbench, const std::string& vehicle,
                                                  const std::string& package,
                                                  const std::string& look);

/// The film that the look proposes for every panel of the vehicle. Errors: not_found, io.
Result<std::vector<shop::Proposal>> propose_all(Workbench& workbench, const std::string& vehicle,
                                                const std::string& look);

}  // namespace film::workbench
