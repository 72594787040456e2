#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "planning/detail/instance.h"

namespace film::planning::detail {

/// What follows from the lags between any two tasks and from the pairs that exclude each other.
struct Closure {
  std::vector<std::pair<std::size_t, std::size_t>>
      forced;                                             ///< the first must end before the second
  std::vector<std::pair<std::size_t, std::size_t>> open;  ///< pairs whose order is still free
  std::vector<std::size_t> contradiction;  ///< a pair that can run in neither order; or empty
};

/// Longest lags between all tasks, and the orders that they force, until nothing new follows.
/// For at most `kMostClosedTasks` tasks; with more the result is empty.
/// Cost: O(tasks^3 + forced * tasks^2).
Closure closure_of(const Instance& instance);

inline constexpr std::size_t kMostClosedTasks = 250;

}  // namespace film::planning::detail
