#include "planning/lags.h"

#include <algorithm>
#include <deque>

namespace film::planning {
namespace {

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

struct Step {
  std::size_t to;
  Time least;
};
using Steps = std::vector<std::vector<Step>>;

// Longest paths from given starting values. `from` keeps, for every task, the task that pushed it
// last; a chain of pushes that returns to itself is a positive cycle.
struct LongestPaths {
  std::vector<Time> value;
  std::vector<std::size_t> from;
  std::vector<std::size_t> cycle;
};

// A cycle in the pushes through `task`, if there is one.
std::vector<std::size_t> cycle_through(std::size_t task, const std::vector<std::size_t>& from) {
  std::vector<std::size_t> chain;
  std::size_t at = task;
  do {
    chain.push_back(at);
    at = from[at];
    if (at == kNone || chain.size() > from.size()) return {};
  } while (at != task);
  std::reverse(chain.begin(), chain.end());
  return chain;
}

LongestPaths longest_paths(const Steps& steps, std::vector<Time> value) {
  LongestPaths paths{std::move(value), std::vector<std::size_t>(steps.size(), kNone), {}};
  std::deque<std::size_t> queue;
  std::vector<bool> queued(steps.size(), true);
  std::vector<std::size_t> pushes(steps.size(), 0);
  for (std::size_t i = 0; i < steps.size(); ++i) queue.push_back(i);
  while (!queue.empty()) {
    const std::size_t i = queue.front();
    queue.pop_front();
    queued[i] = false;
    for (const Step& step : steps[i]) {
      const Time pushed = paths.value[i] + step.least;
      if (pushed <= paths.value[step.to]) continue;
      paths.value[step.to] = pushed;
      paths.from[step.to] = i;
      // Walking the pushes back is paid for only where a task is pushed suspiciously often.
      if (++pushes[step.to] % 8 == 0) {
        paths.cycle = cycle_through(step.to, paths.from);
        if (!paths.cycle.empty()) return paths;
      }
      if (!queued[step.to]) {
        queued[step.to] = true;
        queue.push_back(step.to);
      }
    }
  }
  return paths;
}

std::vector<std::size_t> chain_to(std::size_t task, const std::vector<std::size_t>& from) {
  std::vector<std::size_t> chain;
  for (std::size_t at = task; at != kNone; at = from[at]) chain.push_back(at);
  return chain;
}

}  // namespace

StartWindows start_windows(const Project& project) {
  const std::size_t n = project.tasks.size();
  Steps forward(n);
  Steps backward(n);
  std::vector<Time> earliest(n);
  std::vector<Time> tail(n);  // minus the latest start
  StartWindows windows;
  for (const Lag& lag : project.lags) {
    if (lag.from == lag.to) {
      if (lag.least > 0) {
        windows.cycle = {lag.from};
        return windows;
      }
      continue;
    }
    forward[lag.from].push_back({lag.to, lag.least});
    backward[lag.to].push_back({lag.from, lag.least});
  }
  for (std::size_t i = 0; i < n; ++i) {
    const Task& task = project.tasks[i];
    earliest[i] = std::max(task.earliest, 0);
    const Time by_deadline = project.deadline == kNever ? kNever : project.deadline - task.duration;
    tail[i] = -std::min(task.latest, by_deadline);
  }
  LongestPaths ahead = longest_paths(forward, std::move(earliest));
  if (!ahead.cycle.empty()) {
    windows.cycle = std::move(ahead.cycle);
    return windows;
  }
  LongestPaths behind = longest_paths(backward, std::move(tail));
  for (std::size_t i = 0; i < n; ++i) {
    if (ahead.value[i] <= -behind.value[i]) continue;
    const std::vector<std::size_t> after = chain_to(i, behind.from);
    windows.closed = chain_to(i, ahead.from);
    std::reverse(windows.closed.begin(), windows.closed.end());
    windows.closed.insert(windows.closed.end(), after.begin() + 1, after.end());
    return windows;
  }
  windows.earliest = std::move(ahead.value);
  windows.latest.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    // Far from any limit, lags shift "never" by a little: still never.
    windows.latest[i] = -behind.value[i] > kNever / 2 ? kNever : -behind.value[i];
  }
  return windows;
}

}  // namespace film::planning
