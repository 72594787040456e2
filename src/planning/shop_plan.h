#pragma once

#include <compare>
#include <cstdint>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "planning/shop_model.h"

namespace film::planning {

/// How good a plan is. Compared from the first to the last: what comes first counts alone.
struct Score {
  int unplanned = 0;    ///< jobs without a place
  double broken = 0;    ///< weight of the jobs that end after their promise
  double lateness = 0;  ///< steps after the promise times weight
  int moved = 0;        ///< tasks that stand elsewhere than in the running plan
  double length = 0;    ///< sum of ends and of bay time, in steps
  friend auto operator<=>(const Score&, const Score&) = default;
};

struct ShopOptions {
  std::uint64_t seed = 1;
  std::int64_t iterations = 1000;     ///< rounds of improvement; 0: the first plan
  std::int64_t mending = 20000;       ///< work allowed to mend what rounds leave broken; 0: none
  Time now = 0;                       ///< nothing new starts before
  const ShopPlan* running = nullptr;  ///< the plan that people work by; moves little from it
  std::vector<std::size_t> first;     ///< jobs placed before all others that have not started
};

struct ShopAnswer {
  ShopPlan plan;
  Score score;
  std::int64_t iterations = 0;     ///< rounds done; the same number and seed replay the plan
  std::vector<std::string> notes;  ///< jobs without a place, one sentence each
};

/// Plans all jobs: those of the running plan that can stay stay, the others are placed one by one
/// by serial schedule generation over everybody's working time (what has started first, then by
/// promise), each task where the running plan has it if it can stand there. Without a running plan
/// all are then justified, to the right and back to the left. Large neighbourhood search takes a
/// few jobs off and places them anew, in another order or later, and keeps what is not worse.
/// Promises that are still broken are mended, where that is possible, by trying every order of the
/// jobs around. Anytime: a stop ends it with the best so far. Jobs that find no room have no slots,
/// and a note; that is no proof that there is none. Same input, seed and rounds: same plan. Errors:
/// those of fault_of. Sources: serial generation: R. Kolisch, "Serial and parallel
/// resource-constrained project scheduling methods revisited", EJOR 90, 1996; justification:
/// V. Valls, F. Ballestín, S. Quintanilla, "Justification and RCPSP: a technique that pays", EJOR
/// 165, 2005, here by whole jobs over calendars; large neighbourhoods: P. Shaw, "Using constraint
/// programming and local search methods to solve vehicle routing problems", CP 1998.
Result<ShopAnswer> plan_shop(const Shop& shop, const std::vector<Job>& jobs,
                             const ShopOptions& options, const Context& context);

/// The score of a plan, held against a running one (may be null).
Score score_of(const std::vector<Job>& jobs, const ShopPlan& plan, const ShopPlan* running);

}  // namespace film::planning
