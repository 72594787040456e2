#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "cutting/plan.h"

namespace film::exchange {

/// A knife path as JSON, for people and other programs (docs/formats/cut.md). Numbers are written
/// so that read_cut_plan reads the same plan back, bit for bit.
std::string write_cut_plan(const cutting::CutPlan& plan);

/// Errors: invalid_input, naming `name`; unsupported (a later version of the form).
Result<cutting::CutPlan> read_cut_plan(std::string_view bytes,
                                       std::string_view name = "knife path");

}  // namespace film::exchange
