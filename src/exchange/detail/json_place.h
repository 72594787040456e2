#pragma once

#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include <nlohmann/json.hpp>

#include "base/result.h"
#include "base/text.h"

namespace film::exchange::detail {

/// A word of a document and what it stands for; tables of them are given to Place::word.
template <class Value>
struct Word {
  std::string_view text;
  Value value;
};

/// Thrown by what reads a document; the function that was asked to read turns it into an Error.
struct Refusal {
  Error error;
};

[[noreturn]] inline void refuse(std::string what, std::string where, std::string remedy = {},
                                ErrorCode code = ErrorCode::invalid_input) {
  throw Refusal{Error{code, std::move(what), std::move(where), std::move(remedy)}};
}

/// A value of the document and the way to it: "pieces[3].edges[0]".
struct Place {
  const nlohmann::json& value;
  std::string path;

  [[nodiscard]] std::optional<Place> find(const char* key) const {
    if (!value.is_object()) refuse("an object was expected", path);
    const auto at = value.find(key);
    if (at == value.end() || at->is_null()) return std::nullopt;
    return Place{*at, path.empty() ? key : path + "." + key};
  }
  [[nodiscard]] Place at(const char* key) const {
    const auto found = find(key);
    if (!found) refuse(format("the field \"{}\" is missing", key), path);
    return *found;
  }
  [[nodiscard]] Place item(std::size_t i) const { return {value[i], format("{}[{}]", path, i)}; }
  [[nodiscard]] std::size_t size() const {
    if (!value.is_array()) refuse("a list was expected", path);
    return value.size();
  }
  [[nodiscard]] std::string text() const {
    if (!value.is_string()) refuse("a text was expected", path);
    return value.get<std::string>();
  }
  [[nodiscard]] double number() const {
    if (!value.is_number()) refuse("a number was expected", path);
    const double number = value.get<double>();
    // Far past any vehicle, and safe for every computation on pieces.
    if (!(std::abs(number) < 1e6)) refuse("the number is out of bounds", path, "Lengths are in mm");
    return number;
  }
  [[nodiscard]] std::size_t index() const {
    if (!value.is_number_unsigned()) refuse("a whole number from 0 on was expected", path);
    return value.get<std::size_t>();
  }
  [[nodiscard]] bool truth() const {
    if (!value.is_boolean()) refuse("true or false was expected", path);
    return value.get<bool>();
  }
  template <class Words>
  [[nodiscard]] auto word(const Words& words) const {
    const std::string given = text();
    std::string known;
    for (const auto& word : words) {
      if (word.text == given) return word.value;
      known += (known.empty() ? "" : ", ") + std::string(word.text);
    }
    refuse(format("\"{}\" is not known here", given), path, "Known: " + known);
  }
};

inline std::string text_or(const Place& place, const char* key, std::string fallback) {
  const auto found = place.find(key);
  return found ? found->text() : std::move(fallback);
}

/// The number at the key, refused outside its bounds; `fallback` where there is none.
inline double number_or(const Place& place, const char* key, double fallback, double least,
                        double most) {
  const auto found = place.find(key);
  if (!found) return fallback;
  const double number = found->number();
  if (number < least || number > most) {
    refuse(format("the number must lie between {} and {}", least, most), found->path);
  }
  return number;
}

/// Whether the key is there and true.
inline bool truth_or(const Place& place, const char* key) {
  const auto found = place.find(key);
  return found && found->truth();
}

}  // namespace film::exchange::detail
