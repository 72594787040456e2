#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace film::shop {

/// A vehicle identification number as it is written: 17 capitals and digits without I, O, Q.
/// Spaces and hyphens are dropped, small letters raised. Errors: invalid_input, naming the place.
/// Source: ISO 3779:2009, 49 CFR 565.15.
Result<std::string> read_vin(std::string_view text);

/// The check digit that position 9 must hold: '0' to '9' or 'X'. `vin` is from read_vin.
/// Source: 49 CFR 565.15(c), tables III to V.
char vin_check_digit(std::string_view vin);

/// Whether the vehicle was built for North America by its first character (1 to 5), where the rule
/// binds. Elsewhere position 9 may hold anything.
bool is_north_american(std::string_view vin);

/// Errors: invalid_input, when position 9 does not hold the check digit; says which was expected.
Result<void> check_vin_digit(std::string_view vin);

}  // namespace film::shop
