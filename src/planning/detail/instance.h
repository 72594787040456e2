#pragma once

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include "planning/lags.h"
#include "planning/project.h"

namespace film::planning::detail {

/// The amounts of up to four resources in one word: 15 bits each, the sixteenth left free, so that
/// one subtraction compares all four.
using Packed = std::uint64_t;
inline constexpr std::size_t kLanes = 4;
inline constexpr Packed kGuard = 0x8000800080008000u;

inline bool fits(Packed free, Packed need) { return (((free | kGuard) - need) & kGuard) == kGuard; }
inline int lane_of(Packed word, std::size_t lane) {
  return static_cast<int>((word >> (16 * lane)) & 0x7fffu);
}

/// start(to) >= start(of the task that owns the arc) + least.
struct Arc {
  std::size_t to = 0;
  Time least = 0;
};

/// A project made ready for searching: dense, with start windows tightened by the lags.
struct Instance {
  std::size_t tasks = 0;
  std::size_t words = 0;  ///< packed words for all resources
  Time horizon = 0;       ///< some shortest plan, if there is any, ends by then
  std::vector<Time> duration;
  std::vector<Time> earliest;
  std::vector<Time> latest;
  std::vector<Packed> need;  ///< tasks * words
  std::vector<Packed> full;  ///< words: capacity without absences
  std::vector<Packed> free;  ///< horizon * words: capacity less absences
  std::vector<std::vector<Arc>> after;
  std::vector<std::vector<Arc>> before;  ///< the same arcs at their other end, `to` the first task
  /// Pairs that can never run together and whose order the lags leave open.
  std::vector<std::pair<std::size_t, std::size_t>> exclusive;
  std::vector<std::size_t> order;  ///< a topological order of the arcs; empty if none
  bool forward_only = false;  ///< the lags have no cycle and no task has a latest start of its own

  [[nodiscard]] const Packed* need_of(std::size_t task) const { return &need[task * words]; }
  [[nodiscard]] int need_of(std::size_t task, std::size_t resource) const {
    return lane_of(need[task * words + resource / kLanes], resource % kLanes);
  }
  /// Both can never run at the same moment.
  [[nodiscard]] bool exclude(std::size_t a, std::size_t b) const;
};

/// Needs a project without faults and windows that are not impossible.
Instance instance_of(const Project& project, const StartWindows& windows);

}  // namespace film::planning::detail
