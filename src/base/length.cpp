#include "base/length.h"

#include <array>
#include <charconv>
#include <cmath>
#include <string>

#include "base/text.h"

namespace film {
namespace {

struct Unit {
  std::string_view name;
  double mm;
};

// Exact by the 1959 definition of the inch.
constexpr std::array<Unit, 7> kUnits{{{"mm", 1},
                                      {"cm", 10},
                                      {"m", 1000},
                                      {"in", Mm::kPerInch},
                                      {"\"", Mm::kPerInch},
                                      {"ft", 12 * Mm::kPerInch},
                                      {"'", 12 * Mm::kPerInch}}};

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

}  // namespace

Result<Mm> parse_length(std::string_view text) {
  const auto refuse = [text](std::string_view why) {
    return fail(ErrorCode::invalid_input, format("\"{}\" is not a length: {}", text, why), {},
                "Write a number and a unit, such as 60in or 1524mm");
  };
  const std::string_view body = trimmed(text);
  double number = 0;
  const auto [end, error] = std::from_chars(body.data(), body.data() + body.size(), number);
  if (error != std::errc{}) return refuse("it does not start with a number");
  if (!std::isfinite(number)) return refuse("the number is not finite");
  const std::string_view unit = trimmed(body.substr(static_cast<std::size_t>(end - body.data())));
  if (unit.empty()) return refuse("the unit is missing");
  for (const Unit& known : kUnits) {
    if (unit == known.name) return Mm{number * known.mm};
  }
  return refuse(format("the unit \"{}\" is not known", unit));
}

}  // namespace film
