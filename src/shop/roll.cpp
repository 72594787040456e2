#include "shop/roll.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "shop/day.h"

namespace film::shop {
namespace {

bool is_length(Mm length, double most) {
  return std::isfinite(length.value) && length.value > 0 && length.value <= most;
}

}  // namespace

Result<void> check(const Roll& roll) {
  const auto refuse = [&roll](std::string what, std::string field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what),
                format("roll {} {}", roll.id.empty() ? "?" : roll.id, field), std::move(remedy));
  };
  if (roll.id.empty()) return refuse("a roll has no id", "id", "Give it one.");
  if (roll.film.empty()) return refuse("a roll has no film", "film", "Name its film.");
  if (roll.lot.empty()) {
    return refuse("a roll has no lot", "lot", "Copy the lot from the box: a warranty needs it.");
  }
  if (!is_length(roll.width, 5000)) {
    return refuse(format("a width of {} mm", roll.width.value), "width",
                  "Give the width in mm, up to 5000.");
  }
  if (!is_length(roll.length, 1e6)) {
    return refuse(format("a length of {} mm", roll.length.value), "length",
                  "Give the length in mm, up to 1000000.");
  }
  if (!(roll.remaining.value >= 0 && roll.remaining <= roll.length)) {
    return refuse(format("{} mm remain of {} mm", roll.remaining.value, roll.length.value),
                  "remaining", "What remains is between nothing and the length received.");
  }
  if (!is_day(roll.received)) {
    return refuse(format("'{}' is not a day", roll.received), "received",
                  "Write it as 2031-05-04.");
  }
  for (const RollDefect& defect : roll.defects) {
    if (defect.from_core >= Mm{0} && is_length(defect.length, roll.length.value) &&
        defect.from_core + defect.length <= roll.length && defect.low >= Mm{0} &&
        defect.low < defect.high && defect.high <= roll.width) {
      continue;
    }
    return refuse("a defect that is not on the roll", "defects",
                  "Give where it begins and ends, along and across the roll.");
  }
  return {};
}

std::vector<Box> defects_ahead(const Roll& roll) {
  std::vector<Box> ahead;
  for (const RollDefect& defect : roll.defects) {
    const Mm far = roll.remaining - defect.from_core;
    if (far <= Mm{0}) continue;
    const Mm near = std::max(Mm{0}, far - defect.length);
    ahead.push_back({{near.value, defect.low.value}, {far.value, defect.high.value}});
  }
  return ahead;
}

}  // namespace film::shop
