#pragma once

#include <optional>
#include <string_view>

namespace film::shop {

/// The language of a paper or an amount.
enum class Language { english, german };

/// "en", "de" (ISO 639-1).
constexpr std::string_view code_of(Language language) {
  return language == Language::english ? "en" : "de";
}

/// The language of that code, if it is one of ours.
constexpr std::optional<Language> language_of(std::string_view code) {
  if (code == "en") return Language::english;
  if (code == "de") return Language::german;
  return std::nullopt;
}

}  // namespace film::shop
