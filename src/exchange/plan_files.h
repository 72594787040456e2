#pragma once

#include <string_view>

#include "base/result.h"
#include "planning/project.h"

namespace film::exchange {

/// Reads a project of PSPLIB's single-mode form (.sm): jobs numbered from 1 with their successors,
/// durations and needs. A successor starts no sooner than its predecessor ends. The tasks keep the
/// order and number of the jobs, first and last dummy included.
/// Errors (invalid_input, naming the line): a section missing or out of order, a job twice or
/// never, a number that is none, more than one mode; unsupported: nonrenewable resources;
/// too_large: see planning::fault_of.
/// Source: R. Kolisch, A. Sprecher, "PSPLIB - a project scheduling problem library", European
/// Journal of Operational Research 96, 1996. docs/formats/plan.md.
Result<planning::Project> read_psplib(std::string_view bytes);

/// Reads a project with minimum and maximum time lags in the form of ProGen/max (.sch): activities
/// numbered from 0, lags from start to start in brackets. Errors: as read_psplib.
/// Source: C. Schwindt, "Generation of resource-constrained project scheduling problems subject
/// to temporal constraints", report WIOR-543, University of Karlsruhe, 1998.
Result<planning::Project> read_progen_max(std::string_view bytes);

/// Tells the two apart by their content and reads either.
Result<planning::Project> read_project(std::string_view bytes);

}  // namespace film::exchange
