#include "host/zones.h"

#include <gtest/gtest.h>

namespace film::host {
namespace {

using namespace std::chrono;
using namespace std::chrono_literals;

constexpr Instant at(year_month_day date, minutes time) { return sys_days(date) + time; }
constexpr Civil wall(year_month_day date, minutes time) { return local_days(date) + time; }

// Dates of changes: IANA time zone database, file europe (rule EU: last Sunday of March and of
// October at 01:00 UTC) and northamerica (rule US since 2007: second Sunday of March, first Sunday
// of November, 02:00 by the wall clock).
TEST(Zones, BerlinChangesOnTheLastSundaysOfMarchAndOctober) {
  const auto zone = find_zone("Europe/Berlin");
  ASSERT_TRUE(zone);
  EXPECT_EQ(offset_at(*zone, at(2025y / 3 / 30, 59min)), 60min);
  EXPECT_EQ(offset_at(*zone, at(2025y / 3 / 30, 60min)), 120min);
  EXPECT_EQ(offset_at(*zone, at(2025y / 10 / 26, 59min)), 120min);
  EXPECT_EQ(offset_at(*zone, at(2025y / 10 / 26, 60min)), 60min);
}

TEST(Zones, NewYorkChangesAtTwoByItsOwnClock) {
  const auto zone = find_zone("America/New_York");
  ASSERT_TRUE(zone);
  EXPECT_EQ(offset_at(*zone, at(2026y / 3 / 8, 6h + 59min)), -300min);
  EXPECT_EQ(offset_at(*zone, at(2026y / 3 / 8, 7h)), -240min);
  EXPECT_EQ(offset_at(*zone, at(2026y / 11 / 1, 6h)), -300min);
}

TEST(Zones, ASkippedTimeIsTheChangeAndARepeatedOneTheFirst) {
  const auto zone = find_zone("Europe/Berlin");
  ASSERT_TRUE(zone);
  EXPECT_EQ(instant_of(*zone, wall(2025y / 3 / 30, 2h + 30min)), at(2025y / 3 / 30, 1h));
  EXPECT_EQ(instant_of(*zone, wall(2025y / 10 / 26, 2h + 30min)), at(2025y / 10 / 26, 30min));
}

TEST(Zones, EveryInstantSurvivesTheWayThroughTheWallClockExceptTheRepeatedHour) {
  const auto zone = find_zone("Europe/Berlin");
  ASSERT_TRUE(zone);
  int repeated = 0;
  for (Instant t = at(2025y / 1 / 1, 0min); t < at(2026y / 1 / 1, 0min); t += 10min) {
    const Instant back = instant_of(*zone, civil_of(*zone, t));
    if (back != t) {
      EXPECT_EQ(t - back, 60min);
      ++repeated;
    }
  }
  EXPECT_EQ(repeated, 6);
}

TEST(Zones, AnUnknownNameIsNotFound) {
  const auto zone = find_zone("Nowhere/Atoll");
  ASSERT_FALSE(zone);
  EXPECT_EQ(zone.error().code, ErrorCode::not_found);
}

}  // namespace
}  // namespace film::host
