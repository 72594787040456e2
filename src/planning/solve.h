#pragma once

#include <cstdint>
#include <limits>

#include "base/context.h"
#include "base/result.h"
#include "planning/plan.h"
#include "planning/project.h"

namespace film::planning {

struct Options {
  std::uint64_t seed = 1;
  std::int64_t iterations = std::numeric_limits<std::int64_t>::max();  ///< rounds at most
};

/// Looks for the plan that ends soonest, and for the proof that none ends sooner or that there is
/// none at all. Two lanes run side by side and share what they find after every round: one
/// improves plans (serial schedule generation, double justification, crossover of good plans),
/// the other proves (conflict-driven search over start times that learns from every dead end) and
/// takes part of a good plan apart to rebuild it shorter.
///
/// Ends when the plan is proven, `options.iterations` rounds are done or the context says stop;
/// then it returns the best so far. A status of `infeasible` or `optimal` always rests on a
/// complete proof. Same project, seed and number of rounds give the same plan, whatever the number
/// of threads.
/// Errors: those of `fault_of`. Sources and measurements: docs/algorithms/planning.md.
Result<Plan> solve(const Project& project, const Options& options, const Context& context);

}  // namespace film::planning
