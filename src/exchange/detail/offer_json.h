#pragma once

#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

#include "exchange/detail/json_place.h"
#include "shop/money.h"

// What the documents of price lists and quotes have in common.

namespace film::exchange::detail {

using OrderedJson = nlohmann::ordered_json;

/// A whole number of any sign.
inline std::int64_t whole(const Place& place) {
  if (!place.value.is_number_integer() ||
      (place.value.is_number_unsigned() &&
       place.value.get<std::uint64_t>() > static_cast<std::uint64_t>(INT64_MAX))) {
    refuse("a whole number was expected", place.path);
  }
  return place.value.get<std::int64_t>();
}

/// A whole number whose size is at most kMostMoney's, so that nothing can overflow on the way.
inline std::int64_t bounded(const Place& place) {
  const std::int64_t value = whole(place);
  if (value > shop::kMostMoney.minor || value < -shop::kMostMoney.minor) {
    refuse("the number is out of bounds", place.path);
  }
  return value;
}

inline void read_if(const Place& place, const char* key, std::int64_t& into) {
  if (const auto found = place.find(key)) into = bounded(*found);
}
inline void read_if(const Place& place, const char* key, Money& into) {
  read_if(place, key, into.minor);
}
inline void read_if(const Place& place, const char* key, shop::Rate& into) {
  read_if(place, key, into.millionths);
}
inline void read_if(const Place& place, const char* key, double& into) {
  if (const auto found = place.find(key)) into = found->number();
}
inline void read_if(const Place& place, const char* key, bool& into) {
  if (const auto found = place.find(key)) into = found->truth();
}
inline void read_if(const Place& place, const char* key, std::string& into) {
  if (const auto found = place.find(key)) into = found->text();
}

/// Refuses fields that nobody reads: a misspelt one would be left out silently.
inline void only(const Place& place, std::initializer_list<std::string_view> known) {
  if (!place.value.is_object()) refuse("an object was expected", place.path);
  for (const auto& [key, value] : place.value.items()) {
    bool is_known = false;
    for (const std::string_view each : known) is_known = is_known || each == key;
    if (!is_known) refuse(format("there is no field \"{}\" here", key), place.path);
  }
}

/// The parsed document, or a refusal.
inline nlohmann::json parsed_document(std::string_view bytes, std::size_t most) {
  if (bytes.size() > most) {
    refuse(format("the document is larger than {} MB", most >> 20), "", "", ErrorCode::too_large);
  }
  auto document = nlohmann::json::parse(bytes, nullptr, false);
  if (document.is_discarded()) refuse("this is not JSON", "", "Check that the whole text came.");
  return document;
}

}  // namespace film::exchange::detail
