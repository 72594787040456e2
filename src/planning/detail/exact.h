#pragma once

#include <cstdint>
#include <vector>

#include "planning/shop_model.h"

namespace film::planning::detail {

/// What a search through every order of a few jobs came to.
struct Exact {
  enum class Outcome {
    found,    ///< a plan by which each of these jobs ends by its promise
    none,     ///< there is none while all other jobs stay where they are
    unknown,  ///< the work allowed was used up
  };
  Outcome outcome = Outcome::unknown;
  std::vector<JobPlan> plans;  ///< of the free jobs, in the order given
  std::int64_t work = 0;       ///< placements of a task that were reckoned
};

/// Places the `free` jobs so that each ends by its promise, around all others, which stay as `plan`
/// has them. A tree of decisions: who does a task, which bay holds a stage, which of two comes
/// first where they cannot be at once. Every rule only pushes tasks later, so the soonest times
/// under the decisions taken are one least fixed point, which either breaks a promise or shows the
/// next thing to decide. With enough work allowed it finds a plan whenever there is one.
/// The input has no fault. Same input: same answer.
/// Source: posting precedence constraints: A. Cesta, A. Oddi, S. Smith, "A constraint-based method
/// for project scheduling with time windows", Journal of Heuristics 8, 2002; here with working time
/// and people.
Exact place_exactly(const Shop& shop, const std::vector<Job>& jobs, const ShopPlan& plan,
                    const std::vector<std::size_t>& free, Time now, std::int64_t most_work);

}  // namespace film::planning::detail
