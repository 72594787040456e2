#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "cutting/profile.h"

namespace film::exchange {

/// A machine profile as a JSON object (docs/formats/profile.md), indented. read_profile reads it
/// back to the same value.
std::string write_profile(const cutting::MachineProfile& profile);

/// Keys left out keep their defaults, except `name`; unknown keys are refused, so that a misspelt
/// limit is not overlooked.
/// Errors: invalid_input (not JSON, wrong type, unknown key, a value that make_profile refuses),
/// naming `name` and the key.
Result<cutting::MachineProfile> read_profile(std::string_view bytes,
                                             std::string_view name = "machine profile");

}  // namespace film::exchange
