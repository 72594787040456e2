#pragma once

#include <string>

#include "planning/lags.h"
#include "planning/project.h"

namespace film::planning {

/// A time before which the project cannot end, and where it comes from.
struct Bound {
  Time end = 0;
  std::string reason;  ///< "the chain of lags ending with task 7", "resource R1 needs 310 ..."
};

/// The end that the chains of lags force. Needs windows that are not impossible.
Bound critical_path_bound(const Project& project, const StartWindows& windows);

/// The end that the work of one resource forces: for every moment t, what starts no sooner than t
/// needs its energy from t on, and what must follow the last of it. Needs windows that are not
/// impossible. Cost: O(resources * tasks^2).
Bound resource_bound(const Project& project, const StartWindows& windows);

/// The larger of the two.
Bound lower_bound(const Project& project, const StartWindows& windows);

}  // namespace film::planning
