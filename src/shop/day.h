#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace film::shop {

/// Whether the text is a day of the Gregorian calendar, "2031-05-04".
bool is_day(std::string_view text);

/// The day so many days later; earlier where `days` is negative. `day` must be one.
std::string day_after(std::string_view day, int days);

/// The day of that number `months` later, or the last day of a month that is too short:
/// "2031-05-31" and 1 give "2031-06-30". `day` must be one. None past the year 9999.
std::optional<std::string> months_after(std::string_view day, int months);

/// Whether the text is a moment of RFC 3339 in UTC to the second, "2031-05-04T10:00:00Z".
bool is_moment(std::string_view text);

}  // namespace film::shop
