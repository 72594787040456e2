#include "planning/detail/serial.h"

#include <algorithm>
#include <functional>

namespace film::planning::detail {

Serial::Serial(const Instance& instance)
    : instance_(instance), free_(instance.free), rank_(instance.tasks), keys_(instance.tasks) {
  for (std::size_t k = 0; k < instance.order.size(); ++k) rank_[instance.order[k]] = k;
}

void Serial::clear() {
  const auto count =
      static_cast<std::ptrdiff_t>(static_cast<std::size_t>(dirty_until_) * instance_.words);
  std::copy(instance_.free.begin(), instance_.free.begin() + count, free_.begin());
  dirty_until_ = 0;
}

bool Serial::fits_at(Time t, const Packed* need) const {
  const Packed* free = &free_[static_cast<std::size_t>(t) * instance_.words];
  for (std::size_t w = 0; w < instance_.words; ++w) {
    if (!fits(free[w], need[w])) return false;
  }
  return true;
}

void Serial::take(std::size_t task, Time start) {
  const Packed* need = instance_.need_of(task);
  const Time end = start + instance_.duration[task];
  for (Time t = start; t < end; ++t) {
    for (std::size_t w = 0; w < instance_.words; ++w) {
      free_[static_cast<std::size_t>(t) * instance_.words + w] -= need[w];
    }
  }
  dirty_until_ = std::max(dirty_until_, end);
}

Time Serial::forward(const std::vector<std::size_t>& order, std::vector<Time>& starts) {
  clear();
  starts.assign(instance_.tasks, 0);
  placed_ += static_cast<std::int64_t>(order.size());
  Time plan_end = 0;
  for (const std::size_t task : order) {
    Time start = instance_.earliest[task];
    for (const Arc& arc : instance_.before[task]) {
      start = std::max(start, starts[arc.to] + arc.least);
    }
    const Time duration = instance_.duration[task];
    const Packed* need = instance_.need_of(task);
    Time t = start;
    for (Time run = 0; run < duration; ++t) run = fits_at(t, need) ? run + 1 : 0;
    starts[task] = t - duration;
    if (duration == 0) starts[task] = start;
    take(task, starts[task]);
    plan_end = std::max(plan_end, starts[task] + duration);
  }
  return plan_end;
}

void Serial::backward(const std::vector<std::size_t>& order, std::vector<Time>& starts, Time end) {
  clear();
  placed_ += static_cast<std::int64_t>(order.size());
  for (const std::size_t task : order) {
    const Time duration = instance_.duration[task];
    Time latest = end - duration;
    for (const Arc& arc : instance_.after[task]) {
      latest = std::min(latest, starts[arc.to] - arc.least);
    }
    const Packed* need = instance_.need_of(task);
    Time t = latest + duration;
    for (Time run = 0; run < duration;) run = fits_at(--t, need) ? run + 1 : 0;
    starts[task] = t;
    take(task, t);
  }
}

void Serial::order_by_start(const std::vector<Time>& starts, std::vector<std::size_t>& order) {
  for (std::size_t i = 0; i < starts.size(); ++i) {
    keys_[i] = (static_cast<std::uint64_t>(starts[i]) << 32) | rank_[i];
  }
  std::sort(keys_.begin(), keys_.end());
  for (std::size_t k = 0; k < keys_.size(); ++k) {
    order[k] = instance_.order[static_cast<std::size_t>(keys_[k] & 0xffffffffu)];
  }
}

Time Serial::justify(std::vector<std::size_t>& order, std::vector<Time>& starts) {
  const auto end_of = [&] {
    Time end = 0;
    for (std::size_t i = 0; i < starts.size(); ++i) {
      end = std::max(end, starts[i] + instance_.duration[i]);
    }
    return end;
  };
  Time end = end_of();
  for (Time before = end + 1; end < before;) {
    before = end;
    // By end, the last first; among equals the later in the order of the lags first.
    for (std::size_t i = 0; i < starts.size(); ++i) {
      const auto finish = static_cast<std::uint64_t>(starts[i] + instance_.duration[i]);
      keys_[i] = (finish << 32) | rank_[i];
    }
    std::sort(keys_.begin(), keys_.end(), std::greater<>());
    for (std::size_t k = 0; k < keys_.size(); ++k) {
      order[k] = instance_.order[static_cast<std::size_t>(keys_[k] & 0xffffffffu)];
    }
    backward(order, starts, end);
    order_by_start(starts, order);
    end = forward(order, starts);
  }
  order_by_start(starts, order);
  return end;
}

}  // namespace film::planning::detail
