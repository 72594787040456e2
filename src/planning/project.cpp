#include "planning/project.h"

#include <algorithm>
#include <cstdlib>

#include "base/text.h"

namespace film::planning {
namespace {

constexpr std::size_t kMostTasks = 100'000;
constexpr std::size_t kMostLags = 1'000'000;
constexpr std::size_t kMostResources = 64;
constexpr int kMostCapacity = 30'000;
constexpr Time kMostTime = 1'000'000;
constexpr std::int64_t kMostSteps = 4'000'000;  // of the longest plan; profiles are dense

bool is_time(Time t) { return std::abs(t) <= kMostTime; }

std::optional<Error> fault(std::string what, std::string where,
                           ErrorCode code = ErrorCode::invalid_input) {
  return Error{code, std::move(what), std::move(where), {}};
}

std::optional<Error> fault_of(const Task& task, std::size_t resources) {
  const std::string where = format("task {}", task.id);
  if (task.duration < 0 || !is_time(task.duration)) {
    return fault(format("its duration is {}", task.duration), where);
  }
  if (!is_time(task.earliest) || (task.latest != kNever && !is_time(task.latest))) {
    return fault("its start window lies beyond a million steps", where);
  }
  for (std::size_t r = 0; r < task.needs.size(); ++r) {
    if (task.needs[r] == 0) continue;
    if (r >= resources) return fault(format("it needs resource {}, which is not there", r), where);
    if (task.needs[r] < 0 || task.needs[r] > kMostCapacity) {
      return fault(format("it needs {} of resource {}", task.needs[r], r), where);
    }
  }
  return std::nullopt;
}

std::optional<Error> fault_of(const Resource& resource) {
  const std::string where = format("resource {}", resource.id);
  if (resource.capacity < 0 || resource.capacity > kMostCapacity) {
    return fault(format("its capacity is {}", resource.capacity), where);
  }
  for (const Absence& absence : resource.absences) {
    if (absence.amount < 0 || absence.from < 0 || absence.until < absence.from ||
        !is_time(absence.until)) {
      return fault(
          format("{} are away from {} until {}", absence.amount, absence.from, absence.until),
          where);
    }
  }
  return std::nullopt;
}

}  // namespace

std::optional<Error> fault_of(const Project& project) {
  if (project.tasks.size() > kMostTasks || project.lags.size() > kMostLags ||
      project.resources.size() > kMostResources) {
    return fault("the project has too many tasks, lags or resources", project.name,
                 ErrorCode::too_large);
  }
  std::int64_t steps = 0;
  for (const Task& task : project.tasks) {
    if (auto error = fault_of(task, project.resources.size())) return error;
    steps += task.duration;
  }
  for (const Lag& lag : project.lags) {
    if (lag.from >= project.tasks.size() || lag.to >= project.tasks.size()) {
      return fault("a lag names a task that is not there",
                   format("lag from {} to {}", lag.from, lag.to));
    }
    if (!is_time(lag.least)) {
      return fault("a lag is longer than a million steps",
                   format("lag from {} to {}", lag.from, lag.to));
    }
    steps += std::max(lag.least, 0);
  }
  for (const Resource& resource : project.resources) {
    if (auto error = fault_of(resource)) return error;
  }
  if (steps > kMostSteps && project.deadline > kMostSteps) {
    return fault("the project spans more than four million steps; count in coarser steps",
                 project.name, ErrorCode::too_large);
  }
  return std::nullopt;
}

Time makespan_of(const Project& project, const std::vector<Time>& starts) {
  Time end = 0;
  for (std::size_t i = 0; i < starts.size(); ++i) {
    end = std::max(end, starts[i] + project.tasks[i].duration);
  }
  return end;
}

}  // namespace film::planning
