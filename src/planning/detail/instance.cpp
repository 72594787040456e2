#include "planning/detail/instance.h"

#include <algorithm>

namespace film::planning::detail {
namespace {

// Each moment of a shortest plan after the last fixed date is covered by some task or by the lag
// that follows it: otherwise everything later could move one step left.
Time longest_sensible(const Project& project) {
  std::vector<Time> reach(project.tasks.size());
  Time fixed_dates = 0;
  for (std::size_t i = 0; i < project.tasks.size(); ++i) {
    reach[i] = project.tasks[i].duration;
    fixed_dates = std::max(fixed_dates, project.tasks[i].earliest);
  }
  for (const Lag& lag : project.lags) reach[lag.from] = std::max(reach[lag.from], lag.least);
  for (const Resource& resource : project.resources) {
    for (const Absence& absence : resource.absences) {
      fixed_dates = std::max(fixed_dates, absence.until);
    }
  }
  std::int64_t horizon = fixed_dates;
  for (const Time time : reach) horizon += time;
  return static_cast<Time>(std::min<std::int64_t>(horizon, project.deadline));
}

void fill_free(const Project& project, Instance& instance) {
  const auto horizon = static_cast<std::size_t>(instance.horizon);
  instance.full.assign(instance.words, 0);
  for (std::size_t r = 0; r < project.resources.size(); ++r) {
    const auto capacity = static_cast<Packed>(project.resources[r].capacity);
    instance.full[r / kLanes] |= capacity << (16 * (r % kLanes));
  }
  instance.free.resize(horizon * instance.words);
  for (std::size_t t = 0; t < horizon; ++t) {
    std::copy(instance.full.begin(), instance.full.end(),
              instance.free.begin() + static_cast<std::ptrdiff_t>(t * instance.words));
  }
  for (std::size_t r = 0; r < project.resources.size(); ++r) {
    for (const Absence& absence : project.resources[r].absences) {
      const auto until = std::min(static_cast<std::size_t>(absence.until), horizon);
      for (auto t = static_cast<std::size_t>(absence.from); t < until; ++t) {
        Packed& word = instance.free[t * instance.words + r / kLanes];
        const int left = lane_of(word, r % kLanes);
        const auto gone = static_cast<Packed>(std::min(left, absence.amount));
        word -= gone << (16 * (r % kLanes));
      }
    }
  }
}

std::vector<std::size_t> topological_order(const std::vector<std::vector<Arc>>& after) {
  std::vector<std::size_t> waiting(after.size(), 0);
  for (const auto& arcs : after) {
    for (const Arc& arc : arcs) ++waiting[arc.to];
  }
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < after.size(); ++i) {
    if (waiting[i] == 0) order.push_back(i);
  }
  for (std::size_t k = 0; k < order.size(); ++k) {
    for (const Arc& arc : after[order[k]]) {
      if (--waiting[arc.to] == 0) order.push_back(arc.to);
    }
  }
  if (order.size() != after.size()) order.clear();
  return order;
}

}  // namespace

bool Instance::exclude(std::size_t a, std::size_t b) const {
  if (duration[a] == 0 || duration[b] == 0) return false;
  for (std::size_t w = 0; w < words; ++w) {
    if (!fits(full[w], need[a * words + w]) ||
        !fits(full[w] - need[a * words + w], need[b * words + w])) {
      return true;
    }
  }
  return false;
}

Instance instance_of(const Project& project, const StartWindows& windows) {
  Instance instance;
  const std::size_t n = project.tasks.size();
  instance.tasks = n;
  instance.words = std::max<std::size_t>(1, (project.resources.size() + kLanes - 1) / kLanes);
  instance.horizon = longest_sensible(project);
  instance.duration.resize(n);
  instance.earliest = windows.earliest;
  instance.latest.resize(n);
  instance.need.assign(n * instance.words, 0);
  instance.after.resize(n);
  instance.before.resize(n);
  instance.forward_only = project.deadline == kNever;
  for (std::size_t i = 0; i < n; ++i) {
    const Task& task = project.tasks[i];
    instance.duration[i] = task.duration;
    instance.latest[i] = std::min(windows.latest[i], instance.horizon - task.duration);
    if (task.latest != kNever) instance.forward_only = false;
    for (std::size_t r = 0; r < task.needs.size() && r < project.resources.size(); ++r) {
      instance.need[i * instance.words + r / kLanes] |= static_cast<Packed>(task.needs[r])
                                                        << (16 * (r % kLanes));
    }
  }
  for (const Lag& lag : project.lags) {
    if (lag.from == lag.to) continue;
    if (lag.least < 0) instance.forward_only = false;
    instance.after[lag.from].push_back({lag.to, lag.least});
    instance.before[lag.to].push_back({lag.from, lag.least});
  }
  fill_free(project, instance);
  instance.order = topological_order(instance.after);
  if (instance.order.empty()) instance.forward_only = false;
  return instance;
}

}  // namespace film::planning::detail
