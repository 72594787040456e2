#include "planning/verify.h"

#include <algorithm>
#include <map>

#include "base/text.h"

namespace film::planning {
namespace {

using Kind = Violation::Kind;

void check_windows(const Project& project, const std::vector<Time>& starts,
                   std::vector<Violation>& found) {
  for (std::size_t i = 0; i < starts.size(); ++i) {
    const Task& task = project.tasks[i];
    if (starts[i] < 0 || starts[i] < task.earliest || starts[i] > task.latest) {
      found.push_back({Kind::window,
                       {i},
                       format("task {} starts at {}, allowed is {} to {}", task.id, starts[i],
                              task.earliest, task.latest)});
    }
    if (starts[i] + task.duration > project.deadline) {
      found.push_back({Kind::deadline,
                       {i},
                       format("task {} ends at {}, the deadline is {}", task.id,
                              starts[i] + task.duration, project.deadline)});
    }
  }
}

void check_lags(const Project& project, const std::vector<Time>& starts,
                std::vector<Violation>& found) {
  for (const Lag& lag : project.lags) {
    if (starts[lag.to] - starts[lag.from] >= lag.least) continue;
    found.push_back({Kind::lag,
                     {lag.from, lag.to},
                     format("task {} starts at {}, task {} at {}; at least {} must lie between",
                            project.tasks[lag.from].id, starts[lag.from], project.tasks[lag.to].id,
                            starts[lag.to], lag.least)});
  }
}

// The load of one resource only changes where a task or an absence begins or ends.
void check_resource(const Project& project, std::size_t r, const std::vector<Time>& starts,
                    std::vector<Violation>& found) {
  const Resource& resource = project.resources[r];
  std::map<Time, long> change;
  for (std::size_t i = 0; i < starts.size(); ++i) {
    const int need = need_of(project.tasks[i], r);
    if (need == 0 || project.tasks[i].duration == 0) continue;
    change[starts[i]] += need;
    change[starts[i] + project.tasks[i].duration] -= need;
  }
  std::map<Time, long> away;
  for (const Absence& absence : resource.absences) {
    change[absence.from] += 0;
    change[absence.until] += 0;
    away[absence.from] += absence.amount;
    away[absence.until] -= absence.amount;
  }
  long load = 0;
  for (const auto& [time, step] : change) {
    load += step;
    long absent = 0;
    for (const auto& [moment, amount] : away) {
      if (moment <= time) absent += amount;
    }
    const long offered = std::max(0L, resource.capacity - absent);
    if (load <= offered) continue;
    Violation violation{
        Kind::capacity,
        {},
        format("resource {} offers {} at {}, the tasks hold {}", resource.id, offered, time, load)};
    for (std::size_t i = 0; i < starts.size(); ++i) {
      if (need_of(project.tasks[i], r) > 0 && starts[i] <= time &&
          time < starts[i] + project.tasks[i].duration) {
        violation.tasks.push_back(i);
      }
    }
    found.push_back(std::move(violation));
  }
}

}  // namespace

std::vector<Violation> verify(const Project& project, const std::vector<Time>& starts) {
  if (starts.size() != project.tasks.size()) {
    return {{Kind::missing_start,
             {},
             format("{} tasks have {} starts", project.tasks.size(), starts.size())}};
  }
  std::vector<Violation> found;
  check_windows(project, starts, found);
  check_lags(project, starts, found);
  for (std::size_t r = 0; r < project.resources.size(); ++r) {
    check_resource(project, r, starts, found);
  }
  return found;
}

}  // namespace film::planning
