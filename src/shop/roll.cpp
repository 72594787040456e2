#include "shop/roll.h"

#include <array>
#include <cmath>

#include "base/text.h"

namespace film::shop {
namespace {

bool is_leap(int year) { return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0; }

/// "2031-05-04", a day of the Gregorian calendar.
bool is_day(const std::string& text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (i == 4 || i == 7) continue;
    if (text[i] < '0' || text[i] > '9') return false;
  }
  const int year = std::stoi(text.substr(0, 4));
  const int month = std::stoi(text.substr(5, 2));
  const int day = std::stoi(text.substr(8, 2));
  if (month < 1 || month > 12) return false;
  constexpr std::array<int, 12> kDays{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const int last = kDays[static_cast<std::size_t>(month - 1)] + (month == 2 && is_leap(year));
  return day >= 1 && day <= last;
}

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
  return {};
}

Result<Roll> take(Roll roll, Mm length) {
  if (!is_length(length, 1e6)) {
    return fail(ErrorCode::invalid_input, format("a use of {} mm of film", length.value),
                format("roll {}", roll.id), "Take a positive length in mm.");
  }
  if (length > roll.remaining) {
    return fail(ErrorCode::conflict,
                format("{:.0f} mm are asked of a roll with {:.0f} mm left", length.value,
                       roll.remaining.value),
                format("roll {}", roll.id), "Lay the job out on a roll with more film left.");
  }
  roll.remaining = roll.remaining - length;
  return roll;
}

}  // namespace film::shop
