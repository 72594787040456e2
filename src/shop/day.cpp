#include "shop/day.h"

#include <chrono>

#include "base/assert.h"
#include "base/text.h"

namespace film::shop {
namespace {

/// The digits from `from` on as a number; the caller knows that they are digits.
int number(std::string_view text, std::size_t from, std::size_t count) {
  int value = 0;
  for (std::size_t i = from; i < from + count; ++i) value = 10 * value + (text[i] - '0');
  return value;
}

std::chrono::year_month_day parsed(std::string_view text) {
  return {std::chrono::year{number(text, 0, 4)},
          std::chrono::month{static_cast<unsigned>(number(text, 5, 2))},
          std::chrono::day{static_cast<unsigned>(number(text, 8, 2))}};
}

}  // namespace

bool is_day(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (i == 4 || i == 7) continue;
    if (text[i] < '0' || text[i] > '9') return false;
  }
  return parsed(text).ok();
}

std::string day_after(std::string_view day, int days) {
  FILM_ASSERT(is_day(day));
  const std::chrono::year_month_day then =
      std::chrono::sys_days{parsed(day)} + std::chrono::days{days};
  return format("{:04}-{:02}-{:02}", static_cast<int>(then.year()),
                static_cast<unsigned>(then.month()), static_cast<unsigned>(then.day()));
}

}  // namespace film::shop
