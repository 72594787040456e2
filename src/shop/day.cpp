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

std::string text_of(const std::chrono::year_month_day& day) {
  return format("{:04}-{:02}-{:02}", static_cast<int>(day.year()),
                static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
}

/// Whether the text is like the pattern, in which 0 stands for any digit.
bool is_like(std::string_view text, std::string_view pattern) {
  if (text.size() != pattern.size()) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool digit = text[i] >= '0' && text[i] <= '9';
    if (pattern[i] == '0' ? !digit : text[i] != pattern[i]) return false;
  }
  return true;
}

}  // namespace

bool is_day(std::string_view text) { return is_like(text, "0000-00-00") && parsed(text).ok(); }

bool is_moment(std::string_view text) {
  return is_like(text, "0000-00-00T00:00:00Z") && parsed(text).ok() && number(text, 11, 2) < 24 &&
         number(text, 14, 2) < 60 && number(text, 17, 2) <= 60;  // 60: a leap second
}

std::string day_after(std::string_view day, int days) {
  FILM_ASSERT(is_day(day));
  return text_of(std::chrono::sys_days{parsed(day)} + std::chrono::days{days});
}

std::optional<std::string> months_after(std::string_view day, int months) {
  FILM_ASSERT(is_day(day));
  const auto from = parsed(day);
  auto then = from + std::chrono::months{months};
  if (!then.ok()) then = then.year() / then.month() / std::chrono::last;
  if (then.year() > std::chrono::year{9999}) return std::nullopt;
  return text_of(then);
}

}  // namespace film::shop
