#pragma once

#include <string_view>

#include "base/context.h"
#include "base/result.h"
#include "planning/plan.h"
#include "planning/project.h"
#include "planning/solve.h"

namespace film::workbench {

/// Reads a project (PSPLIB .sm or ProGen/max .sch), plans it and has the independent verifier
/// check the plan; a plan that fails is never returned. Errors: those of the reader and the solver.
Result<planning::Plan> plan_project(std::string_view bytes, const planning::Options& options,
                                    const Context& context);

/// The same for a project already at hand.
Result<planning::Plan> plan_project(const planning::Project& project,
                                    const planning::Options& options, const Context& context);

}  // namespace film::workbench
