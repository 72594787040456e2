#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "glazing/glass_kind.h"
#include "glazing/lamp.h"
#include "glazing/limits.h"

namespace film::exchange {

/// What the law of places says about windows and lamps.
struct LimitTables {
  std::string as_of;   ///< "2026-11-25"
  std::string notice;  ///< in words, shown with the table
  std::vector<glazing::WindowLimit> windows;
  std::vector<glazing::LampLimit> lamps;
  friend bool operator==(const LimitTables&, const LimitTables&) = default;
};

/// Limits JSON, docs/formats/limits.md; strict: a key that is not known is refused.
/// Errors: unsupported (another form or version), invalid_input naming row and field, too_large
/// past 10,000 rows.
Result<LimitTables> read_limits(std::string_view bytes);

/// The words of the file form, also used by the command line and the API.
std::string_view word_for(glazing::Position position);
std::string_view word_for(glazing::LimitKind kind);
std::string_view word_for(glazing::Confidence confidence);
std::string_view word_for(glazing::Verdict verdict);
std::string_view word_for(glazing::LampUse use);
std::string_view word_for(glazing::LampColour colour);
std::string_view word_for(glazing::Tint tint);
Result<glazing::Position> position_of(std::string_view word);
Result<glazing::LampUse> lamp_use_of(std::string_view word);
Result<glazing::Tint> tint_of(std::string_view word);
Result<glazing::LampColour> lamp_colour_of(std::string_view word);

}  // namespace film::exchange
