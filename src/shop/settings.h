#pragma once

#include <string>

#include "base/result.h"
#include "base/units.h"

namespace film::shop {

enum class LengthUnit { mm, inch };

/// The shop itself and its ways.
struct Settings {
  std::string name;
  std::string currency = "EUR";  ///< ISO 4217
  LengthUnit length_unit = LengthUnit::mm;
  Mm piece_gap{5};   ///< least film between two pieces on a roll (common practice)
  Mm bulk_trim{60};  ///< film past the panel on each side of a bulk sheet (common practice)
  Mm outline_tolerance{0.1};  ///< how far a simplified outline may lie from the computed one
  bool demo = false;          ///< this book holds the invented demo shop

  friend bool operator==(const Settings&, const Settings&) = default;
};

/// Errors: invalid_input naming the field.
Result<void> check(const Settings& settings);

}  // namespace film::shop
