#pragma once

#include <string_view>

#include "base/result.h"
#include "base/units.h"

namespace film {

/// Reads a length as people type it: a number and a unit, with or without a space between them.
/// Units: mm, cm, m, in, ft, and the marks " (inch) and ' (foot): "60in", "1524 mm", "1.5m".
/// Errors (invalid_input): no number, no unit, an unknown unit, a value that is not finite.
Result<Mm> parse_length(std::string_view text);

}  // namespace film
