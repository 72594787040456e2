#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "shop/price_list.h"

namespace film::exchange {

/// A price list as docs/formats/quote.md has it: amounts in minor units, shares in millionths. A
/// field that is left out has its usual value. Errors: invalid_input, naming the place (no such
/// document, a field of another type or unknown, and those of shop::check); too_large past 1 MB.
Result<shop::PriceList> read_price_list(std::string_view bytes);

/// One JSON object with every field; read_price_list reads it back unchanged.
std::string write_price_list(const shop::PriceList& list);

}  // namespace film::exchange
