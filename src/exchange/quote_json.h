#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "shop/price.h"
#include "shop/quote.h"

namespace film::exchange {

/// One version of a quote as docs/formats/quote.md has it. Errors: invalid_input, naming the place
/// (a field of another type, missing or unknown, and those of shop::check); too_large past 8 MB.
Result<shop::Quote> read_quote(std::string_view bytes);

/// One JSON object with every field; read_quote reads it back unchanged.
std::string write_quote(const shop::Quote& quote);

/// What work needs and what it costs: the fields "work" and "price" of a quote's alternatives.
std::string write_work(const shop::WorkNeed& work);
std::string write_price(const shop::Price& price);

}  // namespace film::exchange
