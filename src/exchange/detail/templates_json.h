#pragma once

#include "exchange/detail/json_place.h"
#include "planning/scope.h"

namespace film::exchange::detail {

/// The shop's way of working, as docs/formats/plan.md has it. Throws Refusal.
planning::Templates read_templates(const Place& place);

}  // namespace film::exchange::detail
