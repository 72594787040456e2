#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"

namespace film::planning {

/// A moment or a span in whole steps of the project's own clock (5 minutes in a shop, whatever a
/// benchmark uses). Projects begin at 0.
using Time = std::int32_t;

/// No limit. Every sum of real times stays far below it.
inline constexpr Time kNever = std::numeric_limits<Time>::max() / 4;

/// Work that, once started, runs to its end without a break.
struct Task {
  std::string id;
  Time duration = 0;       ///< 0 or more
  std::vector<int> needs;  ///< of each resource while it runs; shorter than the list: the rest 0
  Time earliest = 0;       ///< it starts no sooner
  Time latest = kNever;    ///< it starts no later; equal to `earliest`: it is frozen

  friend bool operator==(const Task&, const Task&) = default;
};

/// start(to) >= start(from) + least. A maximum lag is one that runs backwards: `no_later`.
struct Lag {
  std::size_t from = 0;
  std::size_t to = 0;
  Time least = 0;  ///< may be negative

  friend bool operator==(const Lag&, const Lag&) = default;
};

/// start(to) <= start(from) + most.
constexpr Lag no_later(std::size_t from, std::size_t to, Time most) { return {to, from, -most}; }

/// A part of a resource that is away: night, a holiday, a machine in repair.
struct Absence {
  Time from = 0;
  Time until = 0;  ///< the first moment it is back
  int amount = 0;

  friend bool operator==(const Absence&, const Absence&) = default;
};

/// Something that tasks share and give back: installers, bays, the plotter.
struct Resource {
  std::string id;
  int capacity = 0;
  std::vector<Absence> absences;

  friend bool operator==(const Resource&, const Resource&) = default;
};

/// Tasks, what ties them in time, and what they share. It knows nothing of vehicles or people.
struct Project {
  std::string name;
  std::vector<Task> tasks;
  std::vector<Lag> lags;
  std::vector<Resource> resources;
  Time deadline = kNever;  ///< every task has ended by then

  friend bool operator==(const Project&, const Project&) = default;
};

/// The amount of a resource the task holds while it runs.
inline int need_of(const Task& task, std::size_t resource) {
  return resource < task.needs.size() ? task.needs[resource] : 0;
}

/// The first thing that makes the project meaningless, if any (invalid_input): a negative
/// duration, need, capacity or absence, a lag between tasks that are not there, a need of a
/// resource that is not there, times beyond a million steps; too_large past 100,000 tasks, lags of
/// 1,000,000 or 64 resources. A project that cannot be carried out is not an error: solve says so.
std::optional<Error> fault_of(const Project& project);

/// When the last task ends (0 without tasks). `starts` has one entry a task.
Time makespan_of(const Project& project, const std::vector<Time>& starts);

}  // namespace film::planning
