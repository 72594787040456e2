#pragma once

#include <string>

#include "base/result.h"
#include "shop/price_list.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// The shop's newest price list. A shop that has none yet gets the usual one, with packages and
/// looks made from the films it has; its revision is 0. Errors: io.
Result<shop::PriceList> price_list(Workbench& workbench);

/// The list of one revision. Errors: not_found, io.
Result<shop::PriceList> price_list(Workbench& workbench, std::int64_t revision);

/// Keeps a changed list as a new revision. `list.revision` is that of the list it was changed from.
/// Errors: invalid_input (shop::check; a film or rule that names no film of the book), conflict
/// (someone else changed the list first), io.
Result<shop::PriceList> keep_price_list(Workbench& workbench, shop::PriceList list,
                                        const std::string& who);

}  // namespace film::workbench
