#include "shop/stock_ledger.h"

#include <cmath>

#include "base/text.h"

namespace film::shop {
namespace {

constexpr double kSteps = 1024;  ///< in a millimetre

std::string where(const Roll& roll) { return "roll " + roll.id; }

Result<Mm> positive(const Roll& roll, Mm length) {
  if (std::isfinite(length.value) && length.value <= 1e6 && booked(length) > Mm{0}) {
    return booked(length);
  }
  return fail(ErrorCode::invalid_input, format("a length of {} mm", length.value), where(roll),
              "Give a positive length in mm, up to 1000000.");
}

Failure too_much(const Roll& roll, Mm asked) {
  return fail(ErrorCode::conflict,
              format("{:.0f} mm are asked of a roll with {:.0f} mm left", asked.value,
                     roll.remaining.value),
              where(roll), "Use a roll with more film left, or count this one.");
}

Failure too_long(const Roll& roll, Mm then) {
  return fail(ErrorCode::conflict,
              format("the roll would have {:.0f} mm and was received with {:.0f} mm", then.value,
                     roll.length.value),
              where(roll), "Check the length; a roll never has more than was received.");
}

Failure no_reason(const Roll& roll, const char* of) {
  return fail(ErrorCode::invalid_input, format("{} has no reason", of), where(roll), "Say why.");
}

bool sign_fits(StockVerb verb, Mm change) {
  switch (verb) {
    case StockVerb::received:
    case StockVerb::returned: return change > Mm{0};
    case StockVerb::cut:
    case StockVerb::written_off: return change < Mm{0};
    case StockVerb::counted: return true;
  }
  return false;
}

}  // namespace

Mm booked(Mm length) { return Mm{std::round(length.value * kSteps) / kSteps}; }

StockLine received(const Roll& roll) {
  StockLine line;
  line.roll = roll.id;
  line.verb = StockVerb::received;
  line.change = booked(roll.remaining);
  return line;
}

Result<StockLine> cut(const Roll& roll, Mm length, const std::string& job) {
  const auto used = positive(roll, length);
  if (!used) return Failure(used.error());
  if (*used > roll.remaining) return too_much(roll, *used);
  return StockLine{roll.id, StockVerb::cut, -*used, job, {}, {}, {}};
}

Result<StockLine> give_back(const Roll& roll, Mm length, const std::string& job) {
  const auto back = positive(roll, length);
  if (!back) return Failure(back.error());
  if (roll.remaining + *back > roll.length) return too_long(roll, roll.remaining + *back);
  return StockLine{roll.id, StockVerb::returned, *back, job, {}, {}, {}};
}

Result<StockLine> write_off(const Roll& roll, Mm length, const std::string& why) {
  if (why.empty()) return no_reason(roll, "a loss");
  const auto lost = positive(roll, length);
  if (!lost) return Failure(lost.error());
  if (*lost > roll.remaining) return too_much(roll, *lost);
  return StockLine{roll.id, StockVerb::written_off, -*lost, {}, {}, why, {}};
}

Result<StockLine> count(const Roll& roll, Mm measured, const std::string& why) {
  if (why.empty()) return no_reason(roll, "a count");
  if (!(std::isfinite(measured.value) && measured.value >= 0)) {
    return fail(ErrorCode::invalid_input, format("a count of {} mm", measured.value), where(roll),
                "Give what remains in mm, 0 or more.");
  }
  if (booked(measured) > roll.length) return too_long(roll, measured);
  return StockLine{roll.id, StockVerb::counted, booked(measured) - roll.remaining, {}, {}, why, {}};
}

Result<Roll> after(Roll roll, const StockLine& line) {
  const Mm change = line.change;
  if (line.roll != roll.id || !std::isfinite(change.value) || change != booked(change) ||
      !sign_fits(line.verb, change)) {
    return fail(ErrorCode::invalid_input, format("a line of {} mm", change.value), where(roll),
                "Make the line with the ledger's own verbs.");
  }
  const Mm then = roll.remaining + change;
  if (then < Mm{0}) return too_much(roll, -change);
  if (then > roll.length) return too_long(roll, then);
  roll.remaining = then;
  return roll;
}

Mm sum_of(std::span<const StockLine> lines) {
  Mm sum{0};
  for (const StockLine& line : lines) sum = sum + line.change;
  return sum;
}

}  // namespace film::shop
