#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "base/context.h"
#include "base/rng.h"
#include "planning/detail/instance.h"

namespace film::planning::detail {

/// Takes a stretch of a good plan apart, keeps the order of all other tasks, and searches for a
/// shorter plan that agrees with it.
/// Source: P. Shaw, "Using constraint programming and local search methods to solve vehicle
/// routing problems", CP 1998 (the idea); D. Godard, P. Laborie, W. Nuijten, "Randomized large
/// neighborhood search for cumulative scheduling", ICAPS 2005 (keeping orders, not times).
class Rebuild {
 public:
  /// `instance` must outlive it.
  Rebuild(const Instance& instance, std::uint64_t seed);

  /// One try on the plan, which ends at `end`, with about `work` units of search.
  std::optional<std::vector<Time>> attempt(const std::vector<Time>& starts, Time end,
                                           std::int64_t work, const Context& context);

 private:
  void choose_loose(const std::vector<Time>& starts, Time end);

  const Instance& instance_;
  Rng rng_;
  std::vector<bool> loose_;
  double share_ = 0.2;  // of the plan to take apart; adapts to how tries end
};

}  // namespace film::planning::detail
