#pragma once

#include <nlohmann/json.hpp>

#include "exchange/detail/json_place.h"
#include "planning/scope.h"

namespace film::exchange::detail {

/// The shop's way of working, as docs/formats/plan.md has it. Throws Refusal.
planning::Templates read_templates(const Place& place);
/// The same form; read again it gives the same templates.
nlohmann::ordered_json write_templates(const planning::Templates& templates);

}  // namespace film::exchange::detail
