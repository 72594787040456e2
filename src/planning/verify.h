#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "planning/project.h"

namespace film::planning {

/// One rule that a plan breaks.
struct Violation {
  enum class Kind { missing_start, window, lag, capacity, deadline };

  Kind kind = Kind::missing_start;
  std::vector<std::size_t> tasks;  ///< those involved
  std::string text;                ///< one sentence with names and times

  friend bool operator==(const Violation&, const Violation&) = default;
};

/// Every rule of the project that the starts break; none when the plan can be carried out. Shares
/// no code with the solver. Cost: O(tasks + lags + resources * tasks log tasks).
std::vector<Violation> verify(const Project& project, const std::vector<Time>& starts);

}  // namespace film::planning
