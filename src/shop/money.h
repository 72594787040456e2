#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "base/units.h"
#include "shop/language.h"

namespace film::shop {

// Money is a whole number of minor units (cents); nothing here computes with fractions. The one
// rounding rule of the program: half away from zero, once, where a line's amount is made. A
// total is the sum of its rounded lines, and tax is taken per rate on the sum of that rate's lines
// (docs/decisions/0110-money.md).

/// Amounts stay within +- this, so that every reader of JSON gets them exactly (2^53).
constexpr Money kMostMoney{9'000'000'000'000'000};

/// A share as an exact rational: millionths. 19 % is 190 000, 8.875 % is 88 750.
struct Rate {
  std::int64_t millionths = 0;

  static constexpr Rate percent(std::int64_t whole) { return Rate{whole * 10'000}; }
  friend constexpr auto operator<=>(Rate, Rate) = default;
};

/// Tax of one rate on the sum of its lines.
struct TaxLine {
  Rate rate;
  Money base;
  Money tax;

  friend bool operator==(const TaxLine&, const TaxLine&) = default;
};

/// A quantity as an exact rational, for prices per unit: 90 minutes at a price an hour are
/// {90, 60}; `divisor` is positive.
struct Ratio {
  std::int64_t count = 0;
  std::int64_t divisor = 1;
};

/// `price` x `quantity`, rounded half away from zero: 0.5 cents become 1, -0.5 become -1.
/// Errors: invalid_input (a divisor that is not positive), too_large (past kMostMoney).
Result<Money> times(Money price, Ratio quantity);

/// The share `rate` of an amount, rounded like `times`. Errors: too_large.
Result<Money> share(Money amount, Rate rate);

/// Errors: too_large (past kMostMoney, on the way or at the end).
Result<Money> sum(std::span<const Money> amounts);

/// Splits an amount in proportion to the weights so that the parts sum to it exactly; the cents
/// left over go to the largest remainders, the first of equals first. All weights zero: the first
/// part gets everything. `weights`: not empty, none negative, their sum at most 2^62.
/// Source: the largest-remainder method (Hamilton).
std::vector<Money> split(Money amount, std::span<const std::int64_t> weights);

/// Digits of the minor unit: EUR 2, JPY 0, KWD 3. A code that is not in the list has 2.
/// Source: ISO 4217, list one.
int minor_digits(std::string_view currency);

/// For machines and forms: "1234.56", "-0.05"; as many digits as the currency has.
std::string plain_text(Money amount, std::string_view currency);

/// Reads `plain_text`, with fewer digits after the point as well. Errors: invalid_input (not a
/// number, more digits than the currency has), too_large.
Result<Money> parse_money(std::string_view text, std::string_view currency);

/// For people: "€1,234.56" in English, "1.234,56 €" in German, with a no-break space. A currency
/// without a sign of its own here is written with its code. Source: Unicode CLDR, number patterns.
std::string text_of(Money amount, std::string_view currency, Language language);

/// "19 %" and "8.875%" in the language's way.
std::string text_of(Rate rate, Language language);

/// Reads a percentage as people type it, "8.875" or "19", exactly. Errors: invalid_input (not a
/// number, more than four digits after the point, beyond +-1000 %).
Result<Rate> parse_percent(std::string_view text);

}  // namespace film::shop
