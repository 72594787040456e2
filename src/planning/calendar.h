#pragma once

#include <array>
#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/zone.h"

namespace film::planning {

/// Half-open, in time.
struct Stretch {
  Instant from;
  Instant until;
  friend bool operator==(const Stretch&, const Stretch&) = default;
};

/// Minutes after the midnight that begins the day, by the wall clock. `until` may pass 24 h: a
/// night shift belongs to the day on which it begins.
struct DayPart {
  std::chrono::minutes from{0};
  std::chrono::minutes until{0};
  friend bool operator==(const DayPart&, const DayPart&) = default;
};

/// Work of one day without its breaks. A shift of no length or one that ends before it begins is a
/// fault, never silently no work.
struct Shift {
  DayPart span;
  std::vector<DayPart> breaks;
  friend bool operator==(const Shift&, const Shift&) = default;
};

/// When somebody works, or something is open. Part-time is a week with fewer shifts.
struct Calendar {
  /// Shifts of one date instead of those of its weekday: overtime, a short day.
  struct Special {
    std::chrono::year_month_day date;
    std::vector<Shift> shifts;
    friend bool operator==(const Special&, const Special&) = default;
  };

  std::string name;
  std::array<std::vector<Shift>, 7> week;             ///< Monday first
  std::vector<std::chrono::year_month_day> holidays;  ///< no shift begins on these
  std::vector<Special> specials;                      ///< these come before holidays
  std::vector<Stretch> absences;                      ///< ill, on leave, in repair

  friend bool operator==(const Calendar&, const Calendar&) = default;
};

/// The first thing that makes the calendar meaningless (invalid_input): a shift or break of no
/// length, a break outside its shift, a shift beyond 24 h, a date that does not exist.
std::optional<Error> fault_of(const Calendar& calendar);

/// Working time as stretches, rising, disjoint and not touching.
using WorkingTime = std::vector<Stretch>;

/// The working time of all shifts that begin on the dates from `first` up to and without `last`.
/// Shifts are wall-clock times: on the day of a change to or from daylight saving a shift that
/// spans the change is really an hour shorter or longer.
/// Errors: those of fault_of; too_large past 3,700 days.
Result<WorkingTime> working_time(const Calendar& calendar, const Zone& zone,
                                 std::chrono::year_month_day first,
                                 std::chrono::year_month_day last);

/// Working minutes between two instants; 0 when `until` is not after `from`.
std::chrono::minutes worked_between(const WorkingTime& time, Instant from, Instant until);

/// The instant at which `work` has been done when it starts at `from` or later; nothing when the
/// working time ends before. Work of 0 ends at `from`.
std::optional<Instant> after_work(const WorkingTime& time, Instant from, std::chrono::minutes work);

}  // namespace film::planning
