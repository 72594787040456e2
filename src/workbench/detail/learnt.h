#pragma once

#include <memory>

#include "base/result.h"
#include "workbench/detail/offer_cache.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// The model of hours with every record of laying learnt. Only records that came since the last
/// call are read, unless the belief changed or one of those learnt was struck. Errors: io.
Result<std::shared_ptr<const OfferCache::Learnt>> learnt_model(const Workbench& workbench,
                                                               const hours::Belief& belief);

}  // namespace film::workbench
