#pragma once

#include "base/result.h"
#include "cutting/plan.h"

namespace film::cutting {

/// What a shop cuts to set up a machine: a square of that side, whose sides and diagonal are
/// measured for `calibrate`, and beside it a small square with a triangle in it, to judge force,
/// offset and overcut (common practice: the triangle lifts off cleanly and the liner is not
/// marked). It lies at the profile's margins. Errors: invalid_input (a side of less than 50 mm, or
/// more than the media takes).
Result<CutJob> test_pattern(const MachineProfile& profile, Mm side);

}  // namespace film::cutting
