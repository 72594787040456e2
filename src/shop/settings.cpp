#include "shop/settings.h"

#include <algorithm>

#include "base/text.h"

namespace film::shop {

Result<void> check(const Settings& settings) {
  const auto refuse = [](std::string what, std::string field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what), "shop " + std::move(field),
                std::move(remedy));
  };
  const auto is_capital = [](char c) { return c >= 'A' && c <= 'Z'; };
  if (settings.name.empty()) return refuse("the shop has no name", "name", "Give it one.");
  if (settings.currency.size() != 3 ||
      !std::all_of(settings.currency.begin(), settings.currency.end(), is_capital)) {
    return refuse(format("'{}' is not a currency", settings.currency), "currency",
                  "Use the three letters of ISO 4217, such as EUR.");
  }
  if (!(settings.piece_gap.value >= 0 && settings.piece_gap.value <= 100)) {
    return refuse(format("a gap of {} mm", settings.piece_gap.value), "piece_gap",
                  "Gaps are 0 to 100 mm.");
  }
  if (!(settings.bulk_trim.value >= 0 && settings.bulk_trim.value <= 500)) {
    return refuse(format("a trim of {} mm", settings.bulk_trim.value), "bulk_trim",
                  "Trims are 0 to 500 mm.");
  }
  if (!(settings.outline_tolerance.value > 0 && settings.outline_tolerance.value <= 2)) {
    return refuse(format("a tolerance of {} mm", settings.outline_tolerance.value),
                  "outline_tolerance", "Tolerances are above 0, up to 2 mm.");
  }
  return {};
}

}  // namespace film::shop
