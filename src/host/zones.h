#pragma once

#include <string_view>

#include "base/result.h"
#include "base/zone.h"

namespace film::host {

/// The wall clock of a place by its name in the IANA time zone database ("Europe/Berlin"), read
/// from the machine's copy, with every change from 1970 to 2037 (after that the last offset holds).
/// Errors: not_found (no such zone here).
Result<Zone> find_zone(std::string_view name);

}  // namespace film::host
