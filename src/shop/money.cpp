#include "shop/money.h"

#include <algorithm>
#include <array>
#include <numeric>
#include <utility>

#include "base/assert.h"
#include "base/text.h"

namespace film::shop {
namespace {

// Two 64-bit factors need it; g++ and clang both have it.
__extension__ using Wide = __int128;

Failure past_the_most() {
  return fail(ErrorCode::too_large, "an amount past what is reckoned with", {},
              "Check prices and quantities.");
}

Result<Money> within(Wide minor) {
  if (minor > kMostMoney.minor || minor < -kMostMoney.minor) return past_the_most();
  return Money{static_cast<std::int64_t>(minor)};
}

/// `divisor` > 0.
Wide divided_half_away(Wide dividend, Wide divisor) {
  const Wide half = dividend < 0 ? -divisor / 2 : divisor / 2;
  return (dividend + half) / divisor;
}

constexpr std::array<std::string_view, 17> kNoDigits{"BIF", "CLP", "DJF", "GNF", "ISK", "JPY",
                                                     "KMF", "KRW", "PYG", "RWF", "UGX", "UYI",
                                                     "VND", "VUV", "XAF", "XOF", "XPF"};
constexpr std::array<std::string_view, 7> kThreeDigits{"BHD", "IQD", "JOD", "KWD",
                                                       "LYD", "OMR", "TND"};
constexpr std::array<std::string_view, 2> kFourDigits{"CLF", "UYW"};

std::string_view sign_of(std::string_view currency) {
  if (currency == "EUR") return "€";
  if (currency == "GBP") return "£";
  if (currency == "USD") return "$";
  if (currency == "JPY") return "¥";
  return {};
}

/// Digits of a non-negative number in groups of three.
std::string grouped(std::uint64_t number, char separator) {
  std::string digits = std::to_string(number);
  for (std::size_t at = digits.size(); at > 3; at -= 3) digits.insert(at - 3, 1, separator);
  return digits;
}

/// An amount taken apart for writing.
struct Parts {
  bool negative = false;
  std::uint64_t whole = 0;
  std::string fraction;  ///< with all its digits; empty when the currency has none
};

Parts parts_of(std::int64_t minor, int digits) {
  const std::uint64_t size = minor < 0 ? std::uint64_t{0} - static_cast<std::uint64_t>(minor)
                                       : static_cast<std::uint64_t>(minor);
  std::uint64_t unit = 1;
  for (int digit = 0; digit < digits; ++digit) unit *= 10;
  return {minor<0, size / unit, digits> 0 ? format("{:0{}}", size % unit, digits) : ""};
}

std::string plain_text(std::int64_t scaled, int digits) {
  const Parts parts = parts_of(scaled, digits);
  return format("{}{}{}{}", parts.negative ? "-" : "", parts.whole, digits > 0 ? "." : "",
                parts.fraction);
}

/// Reads "-12.5" as a number of units of 10^-digits.
Result<std::int64_t> parse_decimal(std::string_view text, int digits, std::int64_t most) {
  const auto refuse = [text](std::string what) {
    return fail(ErrorCode::invalid_input, std::move(what), format("'{}'", text),
                "Write a plain number such as 1234.5.");
  };
  const bool negative = text.starts_with('-');
  std::string_view rest = text.substr(negative ? 1 : 0);
  const std::size_t point = rest.find('.');
  const std::string_view whole = rest.substr(0, point);
  const std::string_view fraction =
      point == std::string_view::npos ? std::string_view{} : rest.substr(point + 1);
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  if (whole.empty() || !std::all_of(whole.begin(), whole.end(), is_digit) ||
      !std::all_of(fraction.begin(), fraction.end(), is_digit) ||
      (point != std::string_view::npos && fraction.empty())) {
    return refuse("not a number");
  }
  if (fraction.size() > static_cast<std::size_t>(digits)) {
    return refuse(format("more than {} digits after the point", digits));
  }
  std::string all = std::string(whole) + std::string(fraction);
  all.append(static_cast<std::size_t>(digits) - fraction.size(), '0');
  std::int64_t value = 0;
  for (const char c : all) {
    value = value * 10 + (c - '0');
    if (value > most) return past_the_most();
  }
  return negative ? -value : value;
}

}  // namespace

Result<Money> times(Money price, Ratio quantity) {
  if (quantity.divisor <= 0) {
    return fail(ErrorCode::invalid_input, "a quantity whose divisor is not positive");
  }
  return within(divided_half_away(Wide{price.minor} * quantity.count, quantity.divisor));
}

Result<Money> share(Money amount, Rate rate) { return times(amount, {rate.millionths, 1'000'000}); }

Result<Money> sum(std::span<const Money> amounts) {
  Money total;
  for (const Money amount : amounts) {
    const Result<Money> next = within(Wide{total.minor} + amount.minor);
    if (!next) return next;
    total = *next;
  }
  return total;
}

std::vector<Money> split(Money amount, std::span<const std::int64_t> weights) {
  FILM_ASSERT(!weights.empty());
  std::vector<Money> parts(weights.size());
  const Wide whole = std::accumulate(weights.begin(), weights.end(), Wide{0});
  if (whole == 0) {
    parts.front() = amount;
    return parts;
  }
  std::vector<std::pair<Wide, std::size_t>> remainders;
  Wide left = amount.minor;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    FILM_ASSERT(weights[i] >= 0);
    const Wide exact = Wide{amount.minor} * weights[i];
    parts[i].minor = static_cast<std::int64_t>(exact / whole);
    left -= parts[i].minor;
    const Wide remainder = exact % whole;
    remainders.emplace_back(remainder < 0 ? -remainder : remainder, i);
  }
  std::stable_sort(remainders.begin(), remainders.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  const std::int64_t step = amount.minor < 0 ? -1 : 1;
  for (std::size_t i = 0; left != 0; ++i, left -= step) parts[remainders[i].second].minor += step;
  return parts;
}

int minor_digits(std::string_view currency) {
  const auto among = [currency](const auto& codes) {
    return std::find(codes.begin(), codes.end(), currency) != codes.end();
  };
  if (among(kNoDigits)) return 0;
  if (among(kThreeDigits)) return 3;
  if (among(kFourDigits)) return 4;
  return 2;
}

std::string plain_text(Money amount, std::string_view currency) {
  return plain_text(amount.minor, minor_digits(currency));
}

Result<Money> parse_money(std::string_view text, std::string_view currency) {
  const Result<std::int64_t> value = parse_decimal(text, minor_digits(currency), kMostMoney.minor);
  if (!value) return Failure(value.error());
  return Money{*value};
}

std::string text_of(Money amount, std::string_view currency, Language language) {
  const bool english = language == Language::english;
  const Parts parts = parts_of(amount.minor, minor_digits(currency));
  std::string number = grouped(parts.whole, english ? ',' : '.');
  if (!parts.fraction.empty()) number += (english ? '.' : ',') + parts.fraction;

  const std::string_view minus = parts.negative ? "-" : "";
  const std::string_view sign = sign_of(currency);
  constexpr std::string_view kNoBreak = "\u00a0";
  if (!english) return format("{}{}{}{}", minus, number, kNoBreak, sign.empty() ? currency : sign);
  if (sign.empty()) return format("{}{}{}{}", minus, currency, kNoBreak, number);
  return format("{}{}{}", minus, sign, number);
}

std::string text_of(Rate rate, Language language) {
  const bool english = language == Language::english;
  std::string number = plain_text(rate.millionths, 4);
  number.erase(number.find_last_not_of('0') + 1);
  if (number.ends_with('.')) number.pop_back();
  if (english) return number + "%";
  std::replace(number.begin(), number.end(), '.', ',');
  return number + "\u00a0%";
}

Result<Rate> parse_percent(std::string_view text) {
  const Result<std::int64_t> value = parse_decimal(text, 4, Rate::percent(1000).millionths);
  if (!value) return Failure(value.error());
  return Rate{*value};
}

}  // namespace film::shop
