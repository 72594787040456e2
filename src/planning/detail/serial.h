#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "planning/detail/instance.h"

namespace film::planning::detail {

/// Serial schedule generation: tasks, taken in a given order, each start as soon (or end as late)
/// as the tasks already placed let them. For instances that are `forward_only`.
/// Source: R. Kolisch, "Serial and parallel resource-constrained project scheduling methods
/// revisited", European Journal of Operational Research 90, 1996; V. Valls, F. Ballestín,
/// S. Quintanilla, "Justification and RCPSP: a technique that pays", EJOR 165, 2005.
class Serial {
 public:
  /// `instance` must outlive it. Every task must fit its resources when alone.
  explicit Serial(const Instance& instance);

  /// As soon as possible, in an order that respects the lags. Returns the end of the plan.
  Time forward(const std::vector<std::size_t>& order, std::vector<Time>& starts);

  /// Shifts a plan right against its own end and then left again, task by task, until that no
  /// longer shortens it. The result is never longer. `order` becomes its order by start.
  Time justify(std::vector<std::size_t>& order, std::vector<Time>& starts);

  /// Tasks by start; ties so that lags of 0 point forward.
  void order_by_start(const std::vector<Time>& starts, std::vector<std::size_t>& order);

  /// Tasks placed so far, over all calls.
  [[nodiscard]] std::int64_t placed() const { return placed_; }

 private:
  void backward(const std::vector<std::size_t>& order, std::vector<Time>& starts, Time end);
  void clear();
  void take(std::size_t task, Time start);
  [[nodiscard]] bool fits_at(Time t, const Packed* need) const;

  const Instance& instance_;
  std::vector<Packed> free_;
  std::vector<std::size_t> rank_;  // of each task in instance.order
  std::vector<std::uint64_t> keys_;
  Time dirty_until_ = 0;
  std::int64_t placed_ = 0;
};

}  // namespace film::planning::detail
