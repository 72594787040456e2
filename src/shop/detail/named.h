#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "base/assert.h"

namespace film::shop::detail {

/// A row of a table of stable names.
template <class Choice>
struct Named {
  Choice value;
  std::string_view name;
};

template <class Choice>
std::string_view name_in(std::span<const Named<Choice>> table, Choice value) {
  for (const auto& row : table) {
    if (row.value == value) return row.name;
  }
  FILM_ASSERT(false && "a choice without a name");
  return {};
}

template <class Choice>
std::optional<Choice> value_in(std::span<const Named<Choice>> table, std::string_view name) {
  for (const auto& row : table) {
    if (row.name == name) return row.value;
  }
  return std::nullopt;
}

}  // namespace film::shop::detail
