#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "surface/laying.h"

namespace film::exchange {

/// How a panel is covered, as a JSON document (docs/formats/laying.md).
std::string write_laying(const surface::Laying& laying);

/// Errors: invalid_input (not such a document), saying what is missing.
Result<surface::Laying> read_laying(std::string_view json);

}  // namespace film::exchange
