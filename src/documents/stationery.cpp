#include "documents/stationery.h"

#include <algorithm>
#include <array>

#include "base/text.h"
#include "shop/day.h"

namespace film::documents {

using shop::Language;

std::string link_to(const Stationery& stationery, const std::string& path) {
  if (stationery.head.address.empty()) return "filmwright:" + path;
  const bool ends = stationery.head.address.back() == '/';
  return stationery.head.address + (ends ? "" : "/") + path;
}

std::string number_text(double value, int digits, Language language) {
  std::string text = format("{:.{}f}", value, digits);
  if (language == Language::german) std::replace(text.begin(), text.end(), '.', ',');
  return text;
}

std::string length_text(Mm length, shop::LengthUnit unit, Language language) {
  if (unit == shop::LengthUnit::inch) return number_text(length.inches(), 1, language) + " in";
  if (length.value >= 10000) return number_text(length.value / 1000, 2, language) + " m";
  return number_text(length.value, 0, language) + " mm";
}

std::string date_text(const std::string& day, Language language) {
  const std::string date = day.substr(0, 10);
  if (!shop::is_day(date)) return day;
  static constexpr std::array kEnglish{"January",   "February", "March",    "April",
                                       "May",       "June",     "July",     "August",
                                       "September", "October",  "November", "December"};
  static constexpr std::array kGerman{"Januar",    "Februar", "M\u00e4rz", "April",
                                      "Mai",       "Juni",    "Juli",      "August",
                                      "September", "Oktober", "November",  "Dezember"};
  const auto month = static_cast<std::size_t>(std::stoi(date.substr(5, 2)) - 1);
  const int number = std::stoi(date.substr(8, 2));
  return language == Language::german
             ? format("{}. {} {}", number, kGerman[month], date.substr(0, 4))
             : format("{} {} {}", number, kEnglish[month], date.substr(0, 4));
}

}  // namespace film::documents
