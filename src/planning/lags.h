#pragma once

#include <cstddef>
#include <vector>

#include "planning/project.h"

namespace film::planning {

/// What the lags, windows and the deadline alone allow, resources aside.
struct StartWindows {
  std::vector<Time> earliest;       ///< start of each task
  std::vector<Time> latest;         ///< kNever where nothing bounds it
  std::vector<std::size_t> cycle;   ///< tasks whose lags ask each to start after itself; in order
  std::vector<std::size_t> closed;  ///< when there is no cycle: a chain of tasks from one that may
                                    ///< not start sooner to one that may not start later, with
                                    ///< too little time between; in order

  /// The proof that the project has no plan.
  [[nodiscard]] bool impossible() const { return !cycle.empty() || !closed.empty(); }
};

/// Longest paths through the lags (Bellman and Ford). With a positive cycle or a closed window the
/// times are not filled in. Cost: O(tasks * lags) at worst, near O(tasks + lags) usually.
/// Source: R. Bartusch, R. H. Möhring, F. J. Radermacher, "Scheduling project networks with
/// resource constraints and time windows", Annals of Operations Research 16, 1988.
StartWindows start_windows(const Project& project);

}  // namespace film::planning
