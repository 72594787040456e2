#pragma once

#include <optional>
#include <string>
#include <vector>

#include "exchange/layout_json.h"
#include "server/fields.h"

namespace film::server {

/// Where pieces lie, as the page sends it: an array of `Placement` (docs/formats/openapi.yaml).
/// Empty when the field is missing; faults are the fields' own.
std::vector<exchange::LaidPiece> read_placements(Fields& fields, const Json& body,
                                                 const std::string& name);

/// Faulty places of the film; nothing when the field is missing.
std::optional<std::vector<Box>> read_defects(Fields& fields, const Json& body);

}  // namespace film::server
