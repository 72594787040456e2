#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "planning/shop_model.h"

namespace film::planning {

/// One rule that a plan of the shop breaks.
struct Breach {
  enum class Kind {
    shape,    ///< slots, people or bays that do not match the job
    fact,     ///< a task that has started does not stand where it stands
    arrival,  ///< work before the vehicle is there, or before now
    shift,    ///< work outside the working time, more or less of it than the task takes
    skill,    ///< somebody who cannot do it, or one person as two
    after,    ///< too soon or too late after another task
    bay,      ///< the wrong bay, two vehicles in one, stages out of order or no time to move
    person,   ///< one person at two tasks
    plotter,  ///< two tasks on the plotter
    crowd,    ///< too many people at one vehicle
  };
  Kind kind = Kind::shape;
  std::vector<std::pair<std::size_t, std::size_t>> tasks;  ///< job and task
  std::string text;                                        ///< one sentence with names and times
};

/// The rules that concern one job alone.
std::vector<Breach> verify_job(const Shop& shop, const Job& job, std::size_t index,
                               const JobPlan& plan, Time now);

/// Every rule that the plan breaks; none when it can be carried out. Jobs that are not planned are
/// passed over. Shares no code with the planner. Promises are wishes, not rules: they are not
/// checked here. Cost: O(tasks^2).
std::vector<Breach> verify_shop_plan(const Shop& shop, const std::vector<Job>& jobs,
                                     const ShopPlan& plan, Time now = 0);

}  // namespace film::planning
