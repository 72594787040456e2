#include "planning/lags.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "unit/planning/shop.h"

namespace film::planning {
namespace {

TEST(StartWindows, FollowTheLongestChain) {
  Project project;
  project.tasks = {task("wash", 2), task("lay", 5), task("tuck", 1)};
  project.lags = {{0, 1, 2}, {1, 2, 8}, {0, 2, 3}};
  project.deadline = 20;
  const StartWindows windows = start_windows(project);
  ASSERT_FALSE(windows.impossible());
  EXPECT_EQ(windows.earliest, (std::vector<Time>{0, 2, 10}));
  EXPECT_EQ(windows.latest, (std::vector<Time>{9, 11, 19}));
}

TEST(StartWindows, WithoutALimitNothingIsLatest) {
  Project project;
  project.tasks = {task("a", 1), task("b", 1)};
  project.lags = {{0, 1, 4}};
  EXPECT_EQ(start_windows(project).latest, (std::vector<Time>{kNever, kNever}));
}

TEST(StartWindows, NameTheTasksOfACycle) {
  Project project;
  project.tasks = {task("a", 1), task("b", 1), task("c", 1), task("d", 1)};
  // b at least 5 after a, c at least 5 after b, but c at most 9 after a.
  project.lags = {{0, 1, 5}, {1, 2, 5}, no_later(0, 2, 9), {2, 3, 1}};
  const StartWindows windows = start_windows(project);
  ASSERT_TRUE(windows.impossible());
  std::vector<std::size_t> cycle = windows.cycle;
  std::sort(cycle.begin(), cycle.end());
  EXPECT_EQ(cycle, (std::vector<std::size_t>{0, 1, 2}));
}

TEST(StartWindows, ACycleWithJustEnoughTimeIsFine) {
  Project project;
  project.tasks = {task("a", 1), task("b", 1)};
  project.lags = {{0, 1, 5}, no_later(0, 1, 5)};
  EXPECT_FALSE(start_windows(project).impossible());
}

TEST(StartWindows, ATaskAfterItselfIsACycle) {
  Project project;
  project.tasks = {task("a", 1)};
  project.lags = {{0, 0, 1}};
  EXPECT_EQ(start_windows(project).cycle, (std::vector<std::size_t>{0}));
}

TEST(StartWindows, NameTheChainThatADeadlineCloses) {
  Project project;
  project.tasks = {task("a", 4), task("b", 4), task("c", 4)};
  project.lags = {{0, 1, 4}, {1, 2, 4}};
  project.deadline = 11;
  EXPECT_EQ(start_windows(project).closed, (std::vector<std::size_t>{0, 1, 2}));
  project.deadline = 12;
  EXPECT_FALSE(start_windows(project).impossible());
}

}  // namespace
}  // namespace film::planning
