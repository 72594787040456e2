#include "planning/verify.h"

#include <gtest/gtest.h>

#include "unit/planning/shop.h"

namespace film::planning {
namespace {

using Kind = Violation::Kind;

Project two_on_one_bay() {
  Project project;
  project.tasks = {task("a", 3, {1}), task("b", 3, {1})};
  project.resources = {{"bay", 1, {}}};
  return project;
}

std::vector<Kind> kinds(const Project& project, const std::vector<Time>& starts) {
  std::vector<Kind> found;
  for (const Violation& violation : verify(project, starts)) found.push_back(violation.kind);
  return found;
}

TEST(Verify, AcceptsTasksThatOnlyTouch) { EXPECT_TRUE(kinds(two_on_one_bay(), {0, 3}).empty()); }

TEST(Verify, NamesTasksThatShareTooLittle) {
  const auto found = verify(two_on_one_bay(), {0, 2});
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].kind, Kind::capacity);
  EXPECT_EQ(found[0].tasks, (std::vector<std::size_t>{0, 1}));
}

TEST(Verify, SeesABrokenLag) {
  Project project = two_on_one_bay();
  project.lags = {{0, 1, 4}, no_later(0, 1, 5)};
  EXPECT_TRUE(kinds(project, {0, 4}).empty());
  EXPECT_EQ(kinds(project, {0, 3}), (std::vector<Kind>{Kind::lag}));
  EXPECT_EQ(kinds(project, {0, 6}), (std::vector<Kind>{Kind::lag}));
}

TEST(Verify, SeesAnAbsenceThatBeginsDuringATask) {
  Project project = two_on_one_bay();
  project.resources[0].absences = {{2, 5, 1}};
  EXPECT_EQ(kinds(project, {0, 5}), (std::vector<Kind>{Kind::capacity}));
  EXPECT_TRUE(kinds(project, {5, 8}).empty());
}

TEST(Verify, SeesWindowsAndDeadline) {
  Project project = two_on_one_bay();
  project.tasks[1].earliest = 4;
  project.tasks[1].latest = 6;
  project.deadline = 8;
  EXPECT_TRUE(kinds(project, {0, 5}).empty());
  EXPECT_EQ(kinds(project, {0, 3}), (std::vector<Kind>{Kind::window}));
  EXPECT_EQ(kinds(project, {0, 6}), (std::vector<Kind>{Kind::deadline}));
  EXPECT_EQ(kinds(project, {-1, 5}), (std::vector<Kind>{Kind::window}));
  EXPECT_EQ(kinds(project, {0}), (std::vector<Kind>{Kind::missing_start}));
}

}  // namespace
}  // namespace film::planning
