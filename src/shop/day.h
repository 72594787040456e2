#pragma once

#include <string>
#include <string_view>

namespace film::shop {

/// Whether the text is a day of the Gregorian calendar, "2031-05-04".
bool is_day(std::string_view text);

/// The day so many days later; earlier where `days` is negative. `day` must be one.
std::string day_after(std::string_view day, int days);

}  // namespace film::shop
