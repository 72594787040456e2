#pragma once

#include <cstdint>

#include "planning/plan.h"
#include "planning/project.h"

namespace film::bench {

/// The project planned by Gecode, the constraint solver of the distribution: a start time a task,
/// linear lags, a cumulative constraint a resource; branch and bound with restarts and nogoods, one
/// thread branching on the task that can start first, one by accumulated failures.
planning::Plan plan_with_peer(const planning::Project& project, double seconds, std::uint64_t seed);

}  // namespace film::bench
