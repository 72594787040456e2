#include "planning/calendar.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "host/zones.h"

namespace film::planning {
namespace {

using namespace std::chrono;
using namespace std::chrono_literals;

constexpr Instant at(year_month_day date, minutes time) { return sys_days(date) + time; }

Calendar weekdays() {
  Calendar calendar;
  calendar.name = "weekdays";
  for (std::size_t day = 0; day < 5; ++day) calendar.week[day] = {{{8h, 17h}, {{12h, 13h}}}};
  return calendar;
}

TEST(Calendar, AWeekOfEightHourDaysHasFortyHours) {
  const auto time = working_time(weekdays(), Zone{}, 2026y / 6 / 1, 2026y / 6 / 8);  // a Monday
  ASSERT_TRUE(time);
  EXPECT_EQ(worked_between(*time, at(2026y / 6 / 1, 0h), at(2026y / 6 / 8, 0h)), 40h);
  EXPECT_EQ(after_work(*time, at(2026y / 6 / 1, 11h), 3h), at(2026y / 6 / 1, 15h));
  EXPECT_EQ(after_work(*time, at(2026y / 6 / 5, 16h), 2h), std::nullopt);
}

TEST(Calendar, HolidaysAbsencesAndSpecialDatesChangeTheWeek) {
  Calendar calendar = weekdays();
  calendar.holidays = {2026y / 6 / 4};
  calendar.specials = {{2026y / 6 / 6, {{{9h, 12h}, {}}}}};
  calendar.absences = {{at(2026y / 6 / 2, 10h), at(2026y / 6 / 2, 14h)}};
  const auto time = working_time(calendar, Zone{}, 2026y / 6 / 1, 2026y / 6 / 8);
  ASSERT_TRUE(time);
  EXPECT_EQ(worked_between(*time, at(2026y / 6 / 1, 0h), at(2026y / 6 / 8, 0h)),
            40h - 8h + 3h - 3h);
}

// Changes: IANA time zone database, Europe/Berlin, 2025-03-30 and 2025-10-26 at 01:00 UTC.
TEST(Calendar, ANightShiftLosesAnHourInSpringAndGainsOneInAutumn) {
  const auto zone = host::find_zone("Europe/Berlin");
  ASSERT_TRUE(zone);
  Calendar calendar;
  calendar.week[5] = {{{22h, 30h}, {}}};  // Saturday evening to Sunday 06:00
  const auto spring = working_time(calendar, *zone, 2025y / 3 / 29, 2025y / 3 / 30);
  const auto plain = working_time(calendar, *zone, 2025y / 4 / 5, 2025y / 4 / 6);
  const auto autumn = working_time(calendar, *zone, 2025y / 10 / 25, 2025y / 10 / 26);
  ASSERT_TRUE(spring && plain && autumn);
  EXPECT_EQ(spring->front().until - spring->front().from, 7h);
  EXPECT_EQ(plain->front().until - plain->front().from, 8h);
  EXPECT_EQ(autumn->front().until - autumn->front().from, 9h);
}

TEST(Calendar, ADayShiftStaysAtItsWallClockAcrossTheChange) {
  const auto zone = host::find_zone("Europe/Berlin");
  ASSERT_TRUE(zone);
  const auto time = working_time(weekdays(), *zone, 2025y / 3 / 28, 2025y / 4 / 1);
  ASSERT_TRUE(time);
  EXPECT_EQ(time->front().from, at(2025y / 3 / 28, 7h));  // Friday 08:00 at +1
  EXPECT_EQ((*time)[2].from, at(2025y / 3 / 31, 6h));     // Monday 08:00 at +2
}

TEST(Calendar, AShiftInsideTheSkippedHourIsNoWork) {
  const auto zone = host::find_zone("Europe/Berlin");
  ASSERT_TRUE(zone);
  Calendar calendar;
  calendar.week[6] = {{{2h, 3h}, {}}};
  const auto time = working_time(calendar, *zone, 2025y / 3 / 30, 2025y / 3 / 31);
  ASSERT_TRUE(time);
  EXPECT_TRUE(time->empty());
}

TEST(Calendar, FaultsAreNamedWithTheDay) {
  Calendar calendar = weekdays();
  calendar.week[2] = {{{8h, 8h}, {}}};
  auto time = working_time(calendar, Zone{}, 2026y / 6 / 1, 2026y / 6 / 8);
  ASSERT_FALSE(time);
  EXPECT_EQ(time.error().message(),
            "weekdays, Wednesday: the shift at 08:00 has no length. Give its end, or delete the "
            "shift");
  calendar.week[2] = {{{8h, 12h}, {{11h, 13h}}}};
  EXPECT_TRUE(fault_of(calendar));
  calendar.week[2] = {{{17h, 8h}, {}}};
  EXPECT_TRUE(fault_of(calendar));
  calendar.week[2].clear();
  calendar.holidays = {2026y / 2 / 30};
  EXPECT_TRUE(fault_of(calendar));
}

TEST(Calendar, MinuteByMinuteCountingAgrees) {
  const auto zone = host::find_zone("America/New_York");
  ASSERT_TRUE(zone);
  Rng rng(7);
  for (int round = 0; round < 30; ++round) {
    Calendar calendar;
    for (auto& day : calendar.week) {
      if (rng.uniform() < 0.3) continue;
      const minutes from(60 * static_cast<int>(rng.below(24)));
      const minutes length(60 + 30 * static_cast<int>(rng.below(16)));
      day = {{{from, from + length}, {{from + 15min, from + 30min}}}};
    }
    const Instant first = at(2026y / 3 / 6, 0h);
    const auto time = working_time(calendar, *zone, 2026y / 3 / 5, 2026y / 3 / 10);
    ASSERT_TRUE(time);
    minutes count{0};
    for (Instant t = first; t < first + days(3); t += 1min) {
      const bool working = std::any_of(time->begin(), time->end(), [t](const Stretch& part) {
        return part.from <= t && t < part.until;
      });
      if (!working) continue;
      count += 1min;
      EXPECT_EQ(after_work(*time, first, count), t + 1min);
    }
    EXPECT_EQ(worked_between(*time, first, first + days(3)), count);
  }
}

}  // namespace
}  // namespace film::planning
