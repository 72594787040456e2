#include "planning/calendar.h"

#include <algorithm>

#include "base/text.h"

namespace film::planning {
namespace {

using std::chrono::days;
using std::chrono::local_days;
using std::chrono::minutes;
using std::chrono::year_month_day;

std::string clock(minutes t) { return format("{:02}:{:02}", t.count() / 60, t.count() % 60); }

std::optional<Error> fault_of(const Shift& shift, const std::string& where) {
  const auto fault = [&where](std::string what, std::string remedy) {
    return Error{ErrorCode::invalid_input, std::move(what), where, std::move(remedy)};
  };
  const auto [from, until] = shift.span;
  if (until == from) {
    return fault(format("the shift at {} has no length", clock(from)),
                 "Give its end, or delete the shift");
  }
  if (from < minutes(0) || from >= days(1) || until < from || until - from > days(1)) {
    return fault(
        format("the shift {} to {} is not within a day and a night", clock(from), clock(until)),
        "A shift past midnight ends after 24:00");
  }
  for (const DayPart& pause : shift.breaks) {
    if (pause.until <= pause.from || pause.from < from || pause.until > until) {
      return fault(format("the break {} to {} is empty or outside its shift", clock(pause.from),
                          clock(pause.until)),
                   "Put the break inside the shift");
    }
  }
  return std::nullopt;
}

const std::vector<Shift>& shifts_on(const Calendar& calendar, local_days day) {
  static const std::vector<Shift> none;
  const year_month_day date(day);
  for (const Calendar::Special& special : calendar.specials) {
    if (special.date == date) return special.shifts;
  }
  if (std::find(calendar.holidays.begin(), calendar.holidays.end(), date) !=
      calendar.holidays.end()) {
    return none;
  }
  return calendar.week[std::chrono::weekday(day).iso_encoding() - 1];
}

WorkingTime joined(WorkingTime parts) {
  std::sort(parts.begin(), parts.end(),
            [](const Stretch& a, const Stretch& b) { return a.from < b.from; });
  WorkingTime all;
  for (const Stretch& part : parts) {
    if (part.until <= part.from) continue;  // wholly inside the hour that the clock skips
    if (!all.empty() && part.from <= all.back().until) {
      all.back().until = std::max(all.back().until, part.until);
    } else {
      all.push_back(part);
    }
  }
  return all;
}

WorkingTime without(const WorkingTime& time, const std::vector<Stretch>& away) {
  const WorkingTime gaps = joined(away);
  WorkingTime left;
  for (Stretch part : time) {
    for (const Stretch& gap : gaps) {
      if (gap.until <= part.from || gap.from >= part.until) continue;
      if (gap.from > part.from) left.push_back({part.from, gap.from});
      part.from = std::min(gap.until, part.until);
    }
    if (part.from < part.until) left.push_back(part);
  }
  return left;
}

}  // namespace

std::optional<Error> fault_of(const Calendar& calendar) {
  static constexpr std::array kDays{"Monday", "Tuesday",  "Wednesday", "Thursday",
                                    "Friday", "Saturday", "Sunday"};
  for (std::size_t day = 0; day < 7; ++day) {
    for (const Shift& shift : calendar.week[day]) {
      if (auto fault = fault_of(shift, format("{}, {}", calendar.name, kDays[day]))) return fault;
    }
  }
  const auto date_fault = [&](const year_month_day& date) -> std::optional<Error> {
    if (date.ok()) return std::nullopt;
    return Error{ErrorCode::invalid_input, "a date of the calendar does not exist", calendar.name,
                 "Correct the date"};
  };
  for (const auto& date : calendar.holidays) {
    if (auto fault = date_fault(date)) return fault;
  }
  for (const Calendar::Special& special : calendar.specials) {
    if (auto fault = date_fault(special.date)) return fault;
    for (const Shift& shift : special.shifts) {
      if (auto fault = fault_of(shift, calendar.name + ", special date")) return fault;
    }
  }
  return std::nullopt;
}

Result<WorkingTime> working_time(const Calendar& calendar, const Zone& zone, year_month_day first,
                                 year_month_day last) {
  if (auto fault = fault_of(calendar)) return Failure(*fault);
  if (!first.ok() || !last.ok()) {
    return fail(ErrorCode::invalid_input, "a date does not exist", calendar.name);
  }
  if (local_days(last) - local_days(first) > days(3700)) {
    return fail(ErrorCode::too_large, "more than ten years of working time", calendar.name);
  }
  WorkingTime parts;
  std::vector<Stretch> breaks;
  for (local_days day(first); day < local_days(last); day += days(1)) {
    const auto stretch = [&](const DayPart& part) {
      return Stretch{instant_of(zone, Civil(day) + part.from),
                     instant_of(zone, Civil(day) + part.until)};
    };
    for (const Shift& shift : shifts_on(calendar, day)) {
      // A break belongs to its own shift: it takes nothing from another one beside it.
      breaks.clear();
      for (const DayPart& pause : shift.breaks) breaks.push_back(stretch(pause));
      const WorkingTime worked = without({stretch(shift.span)}, breaks);
      parts.insert(parts.end(), worked.begin(), worked.end());
    }
  }
  return without(joined(std::move(parts)), calendar.absences);
}

minutes worked_between(const WorkingTime& time, Instant from, Instant until) {
  minutes sum{0};
  for (const Stretch& part : time) {
    sum += std::max(minutes(0), std::min(part.until, until) - std::max(part.from, from));
  }
  return sum;
}

std::optional<Instant> after_work(const WorkingTime& time, Instant from, minutes work) {
  if (work <= minutes(0)) return from;
  for (const Stretch& part : time) {
    const Instant start = std::max(part.from, from);
    if (start >= part.until) continue;
    if (part.until - start >= work) return start + work;
    work -= part.until - start;
  }
  return std::nullopt;
}

}  // namespace film::planning
