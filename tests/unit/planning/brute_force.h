#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <vector>

#include "planning/project.h"

namespace film::planning {

/// The earliest end of any plan, found by trying every start of every task; slow and obvious.
/// Starts run up to `horizon`. Nothing when no plan ends by it.
class BruteForce {
 public:
  BruteForce(const Project& project, Time horizon) : project_(project), horizon_(horizon) {}

  std::optional<Time> best_end() {
    starts_.assign(project_.tasks.size(), 0);
    place(0, 0);
    return best_;
  }

 private:
  void place(std::size_t task, Time end) {
    if (best_ && end >= *best_) return;
    if (task == project_.tasks.size()) {
      best_ = end;
      return;
    }
    const Task& t = project_.tasks[task];
    for (Time start = std::max(t.earliest, 0); start <= t.latest; ++start) {
      const Time finish = start + t.duration;
      if (finish > horizon_ || finish > project_.deadline) break;
      starts_[task] = start;
      if (agrees(task)) place(task + 1, std::max(end, finish));
    }
  }

  // The task against those before it, moment by moment.
  [[nodiscard]] bool agrees(std::size_t task) const {
    for (const Lag& lag : project_.lags) {
      if (lag.from <= task && lag.to <= task && starts_[lag.to] - starts_[lag.from] < lag.least) {
        return false;
      }
    }
    const Time from = starts_[task];
    for (Time t = from; t < from + project_.tasks[task].duration; ++t) {
      for (std::size_t r = 0; r < project_.resources.size(); ++r) {
        int left = project_.resources[r].capacity;
        for (const Absence& absence : project_.resources[r].absences) {
          if (absence.from <= t && t < absence.until) left -= absence.amount;
        }
        left = std::max(left, 0);
        for (std::size_t i = 0; i <= task; ++i) {
          if (starts_[i] <= t && t < starts_[i] + project_.tasks[i].duration) {
            left -= need_of(project_.tasks[i], r);
          }
        }
        if (left < 0 && need_of(project_.tasks[task], r) > 0) return false;
      }
    }
    return true;
  }

  const Project& project_;
  Time horizon_;
  std::vector<Time> starts_;
  std::optional<Time> best_;
};

}  // namespace film::planning
