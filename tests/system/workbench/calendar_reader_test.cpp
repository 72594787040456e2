// The calendar feed, read by an independent program: python3-icalendar of Debian.

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>

#include <gtest/gtest.h>

#include "host/files.h"
#include "shop/settings.h"
#include "store/store.h"
#include "workbench/feed_plan.h"
#include "workbench/seed_plan.h"

namespace film::workbench {
namespace {

/// What a command prints; empty when it fails.
std::string said(const std::string& command) {
  std::string out;
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) return out;
  char buffer[4096];
  while (std::fgets(buffer, sizeof buffer, pipe) != nullptr) out += buffer;
  return pclose(pipe) == 0 ? out : std::string();
}

TEST(CalendarFeed, IsReadByAnIndependentProgramAndMovesItsEntriesWithThePlan) {
  if (std::system("/usr/bin/python3 -c 'import icalendar' 2>/dev/null") != 0) {
    GTEST_SKIP() << "python3-icalendar is not installed (packages.txt)";
  }
  const auto bench = *workbench_in_memory();
  shop::Settings settings;
  settings.name = "Invented";
  settings.demo = true;
  ASSERT_TRUE(bench->store().change([&](store::Book& book) { book.put(settings); }));
  ASSERT_TRUE(seed_plan(*bench, {}));
  const auto secret = open_feed(*bench, "");
  ASSERT_TRUE(secret);
  const auto feed = read_feed(*bench, *secret);
  ASSERT_TRUE(feed);
  const auto file = std::filesystem::temp_directory_path() / ("filmwright-" + *secret + ".ics");
  ASSERT_TRUE(host::write_file(file, *feed));
  const std::string read = said(
      "/usr/bin/python3 -c \"import icalendar,sys\n"
      "c=icalendar.Calendar.from_ical(open('" +
      file.string() +
      "','rb').read())\n"
      "e=list(c.walk('VEVENT'))\n"
      "u=[str(x['UID']) for x in e]\n"
      "assert len(set(u))==len(u)\n"
      "assert all(x['DTSTART'].dt.utcoffset().total_seconds()==0 for x in e)\n"
      "assert all(x['DTSTART'].dt<x['DTEND'].dt for x in e)\n"
      "w=[x for x in e if str(x['UID'])=='P-0001/wash@filmwright'][0]\n"
      "print(len(e),w['DTSTART'].dt.isoformat(),w['SEQUENCE'],str(w['LOCATION']))\"");
  std::filesystem::remove(file);
  const PlanDesk desk = *plan_desk(*bench);
  std::size_t tasks = 0;
  for (const auto& job : desk.file.jobs) {
    for (const auto& task : job.tasks) tasks += task.hands.empty() ? 0U : 1U;
  }
  // 08:00 in Berlin in May is 06:00 UTC.
  EXPECT_EQ(read, std::to_string(tasks) + " 2031-05-05T06:00:00+00:00 3 wash bay\n");
}

}  // namespace
}  // namespace film::workbench
