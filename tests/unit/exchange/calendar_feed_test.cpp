#include "exchange/calendar_feed.h"

#include <gtest/gtest.h>

#include "planning/shop_plan.h"
#include "unit/planning/shop_case.h"

namespace film::exchange {
namespace {

using namespace std::chrono;
using namespace std::chrono_literals;

// The form: RFC 5545, sections 3.1 (lines), 3.3.5 (UTC times), 3.3.11 (text), 3.6.1 (VEVENT).
TEST(CalendarFeed, AnEventIsWrittenAsTheStandardSays) {
  const Instant from = sys_days(2026y / 6 / 1) + 7h + 5min;
  const std::string feed = write_feed("Plan",
                                      {{"van/wash@filmwright", from, from + 45min,
                                        "van: wash; dry, tuck", "bay 1", "one\ntwo \\ three"}},
                                      from);
  EXPECT_EQ(feed,
            "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Filmwright//Plan//EN\r\n"
            "METHOD:PUBLISH\r\n"
            "X-WR-CALNAME:Plan\r\nBEGIN:VEVENT\r\nUID:van/wash@filmwright\r\n"
            "DTSTAMP:20260601T070500Z\r\nSEQUENCE:0\r\nDTSTART:20260601T070500Z\r\nDTEND:"
            "20260601T075000Z\r\n"
            "SUMMARY:van: wash\\; dry\\, tuck\r\nLOCATION:bay 1\r\n"
            "DESCRIPTION:one\\ntwo \\\\ three\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n");
}

TEST(CalendarFeed, LongLinesFoldBetweenCharactersAndUnfoldToTheSame) {
  std::string name;
  for (int k = 0; k < 60; ++k) name += "\xc3\xa4\xe2\x82\xac";  // two and three bytes
  std::string feed = write_feed(name, {}, Instant());
  std::size_t start = 0;
  while (start < feed.size()) {
    const std::size_t end = feed.find("\r\n", start);
    ASSERT_NE(end, std::string::npos);
    EXPECT_LE(end - start, 75u);
    const std::size_t first = feed[start] == ' ' ? start + 1 : start;
    EXPECT_NE(static_cast<unsigned char>(feed[first]) & 0xc0, 0x80);
    start = end + 2;
  }
  for (std::size_t at; (at = feed.find("\r\n ")) != std::string::npos;) feed.erase(at, 3);
  EXPECT_NE(feed.find("X-WR-CALNAME:" + name + "\r\n"), std::string::npos);
}

TEST(CalendarFeed, APersonSeesTheirOwnTasksInOrder) {
  const auto shop = planning::invented_shop();
  const auto jobs = planning::invented_jobs(shop, 60, 1);
  const auto answer = planning::plan_shop(shop, jobs, {}, Context());
  ASSERT_TRUE(answer);
  std::size_t hands = 0;
  for (const auto& job : jobs) {
    for (const auto& task : job.tasks) hands += task.hands.size();
  }
  std::size_t events = 0;
  for (std::size_t p = 0; p < shop.people.size(); ++p) {
    const auto own = events_of(shop, jobs, answer->plan, p);
    for (std::size_t k = 1; k < own.size(); ++k) EXPECT_GE(own[k].from, own[k - 1].until);
    events += own.size();
  }
  EXPECT_EQ(events, hands);
}

}  // namespace
}  // namespace film::exchange
