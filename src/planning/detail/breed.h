#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/context.h"
#include "base/rng.h"
#include "planning/detail/serial.h"

namespace film::planning::detail {

/// A stock of plans that is crossed, changed a little and justified, again and again. For
/// instances that are `forward_only`.
/// Source: V. Valls, F. Ballestín, S. Quintanilla, "A hybrid genetic algorithm for the
/// resource-constrained project scheduling problem", EJOR 185, 2008; first plans as in R. Kolisch,
/// A. Drexl, "Adaptive search for solving hard project scheduling problems", Naval Research
/// Logistics 43, 1996. Differences: steady stock instead of generations, started anew when it has
/// grown alike.
class Breed {
 public:
  /// `instance` must outlive it. At least one task.
  Breed(const Instance& instance, std::size_t stock_size, std::uint64_t seed);

  /// Goes on until about `placements` more tasks were placed, the best plan ends by `goal`, or the
  /// context says stop.
  void run(std::int64_t placements, Time goal, const Context& context);

  /// Takes a plan from elsewhere into the stock.
  void adopt(const std::vector<Time>& starts);

  [[nodiscard]] const std::vector<Time>& best() const { return best_; }
  [[nodiscard]] Time best_end() const { return best_end_; }
  /// Placements since the best plan was found or the stock started anew.
  [[nodiscard]] std::int64_t stale() const { return serial_.placed() - fresh_at_; }

 private:
  struct Member {
    std::vector<std::size_t> order;
    std::vector<Time> starts;
    Time end = 0;
    std::int64_t sum = 0;  // of starts: the compacter plan breaks ties, and tells plans apart
  };

  void seed_member();
  void settle(Member member);  // justifies it and lets it into the stock or not
  [[nodiscard]] const Member& pick();
  void cross(const Member& mother, const Member& father, std::vector<std::size_t>& child);
  void disturb(std::vector<std::size_t>& order);
  void sample(std::vector<std::size_t>& order);
  [[nodiscard]] bool linked(std::size_t before, std::size_t after) const;
  static bool better(const Member& a, const Member& b) {
    return a.end != b.end ? a.end < b.end : a.sum < b.sum;
  }

  const Instance& instance_;
  const std::size_t stock_size_;
  Serial serial_;
  Rng rng_;
  std::vector<Member> stock_;
  std::vector<Time> tail_;  // longest chain of lags from each start to the end of the plan
  std::vector<bool> used_;
  std::vector<Time> best_;
  Time best_end_ = kNever;
  std::int64_t fresh_at_ = 0;
};

}  // namespace film::planning::detail
