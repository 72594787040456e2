#pragma once

#include <optional>
#include <vector>

#include "planning/calendar.h"
#include "planning/project.h"

namespace film::planning {

/// Half-open, in steps.
struct Span {
  Time from = 0;
  Time until = 0;
  [[nodiscard]] bool meets(const Span& other) const {
    return from < other.until && other.from < until;
  }
  friend bool operator==(const Span&, const Span&) = default;
};

/// What work may do when its shift ends: rest until the next, or not begin unless it ends in time.
enum class Pause { at_breaks, never };

/// Working time on the steps of a plan, for quick questions. Each question costs O(log spans).
class WorkLine {
 public:
  WorkLine() = default;
  /// The spans rise and do not touch; empty ones are dropped.
  explicit WorkLine(std::vector<Span> spans);

  [[nodiscard]] const std::vector<Span>& spans() const { return spans_; }
  /// Working steps in [from, until).
  [[nodiscard]] Time work_between(Time from, Time until) const;
  /// The first stretch at `from` or later that holds `work` steps (1 or more), from its first
  /// working step to the end of its last.
  [[nodiscard]] std::optional<Span> fit(Time from, Time work, Pause pause) const;
  /// The last start of `work` steps that are done by `until`.
  [[nodiscard]] std::optional<Time> latest_start(Time until, Time work, Pause pause) const;

  friend bool operator==(const WorkLine&, const WorkLine&) = default;

 private:
  [[nodiscard]] Time before(Time t) const;   // working steps in [0, t)
  [[nodiscard]] Time step_of(Time k) const;  // the k-th working step, from 0

  std::vector<Span> spans_;
  std::vector<Time> done_;  // working steps before each span, and in all
};

/// When both work.
WorkLine common(const WorkLine& a, const WorkLine& b);

/// Working time on steps of `step` length from `origin`; a step counts only when all of it is
/// worked. What lies before the origin is dropped.
WorkLine on_steps(const WorkingTime& time, Instant origin, std::chrono::minutes step);

}  // namespace film::planning
