#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "planning/project.h"

namespace film::planning {

enum class Status {
  optimal,     ///< a plan, and the proof that none ends sooner
  feasible,    ///< a plan; perhaps not the shortest
  infeasible,  ///< the proof that there is no plan
  unknown,     ///< neither a plan nor a proof in the time given; never to be read as "no"
};

/// "optimal", "feasible", "infeasible", "unknown".
std::string_view name_of(Status status);

/// What a search found.
struct Plan {
  Status status = Status::unknown;
  std::vector<Time> starts;  ///< of every task in the order of the project; empty without a plan
  Time makespan = 0;         ///< when the last task ends; 0 without a plan
  Time lower_bound = 0;      ///< proven: no plan ends sooner
  std::string reason;        ///< why it is infeasible, or what the answer rests on
  std::vector<std::size_t> culprits;  ///< tasks that together cannot be done; may be empty
  std::int64_t iterations = 0;  ///< rounds of search done; the same number replays the same plan

  [[nodiscard]] bool exists() const {
    return status == Status::optimal || status == Status::feasible;
  }

  friend bool operator==(const Plan&, const Plan&) = default;
};

}  // namespace film::planning
