#include "planning/solve.h"

#include <fstream>
#include <sstream>

#include <gtest/gtest.h>

#include "exchange/plan_files.h"
#include "host/thread_executor.h"
#include "planning/verify.h"
#include "unit/planning/shop.h"

namespace film::planning {
namespace {

Plan solved(const Project& project, std::int64_t rounds = 20) {
  Options options;
  options.iterations = rounds;
  auto plan = solve(project, options, Context());
  EXPECT_TRUE(plan);
  if (plan && !plan->starts.empty()) {
    EXPECT_TRUE(verify(project, plan->starts).empty());
    EXPECT_EQ(plan->makespan, makespan_of(project, plan->starts));
    EXPECT_LE(plan->lower_bound, plan->makespan);
  }
  return plan ? *plan : Plan{};
}

Project shared(const std::string& file) {
  std::ifstream stream(FILM_SOURCE_DIR "/../shared/data/scheduling/" + file);
  std::stringstream bytes;
  bytes << stream.rdbuf();
  auto project = exchange::read_project(bytes.str());
  EXPECT_TRUE(project) << file;
  return project ? *project : Project{};
}

TEST(Solve, NothingToDoEndsAtOnce) {
  const Plan plan = solved({});
  EXPECT_EQ(plan.makespan, 0);
  EXPECT_EQ(plan.status, Status::optimal);
}

TEST(Solve, TasksThatShareABayFollowEachOther) {
  Project project;
  project.tasks = {task("a", 3, {1}), task("b", 4, {1}), task("c", 5, {0})};
  project.resources = {{"bay", 1, {}}};
  const Plan plan = solved(project);
  EXPECT_EQ(plan.status, Status::optimal);
  EXPECT_EQ(plan.makespan, 7);
}

TEST(Solve, WorkWaitsForTheMorning) {
  Project project;
  project.tasks = {task("a", 3, {1}), task("b", 4, {1})};
  project.resources = {{"installer", 1, {{5, 20, 1}}}};
  const Plan plan = solved(project);
  EXPECT_EQ(plan.status, Status::optimal);
  EXPECT_EQ(plan.makespan, 23);  // the longer before the night, the shorter after it
}

TEST(Solve, FrozenWorkStaysWhereItIs) {
  Project project;
  project.tasks = {task("a", 3, {1}), task("b", 4, {1})};
  project.tasks[0].earliest = project.tasks[0].latest = 2;
  project.resources = {{"bay", 1, {}}};
  const Plan plan = solved(project);
  EXPECT_EQ(plan.status, Status::optimal);
  EXPECT_EQ(plan.starts, (std::vector<Time>{2, 5}));
}

TEST(Solve, SaysWhichTaskNeedsTooMuch) {
  Project project;
  project.tasks = {task("a", 1, {1}), task("large sheet", 1, {3})};
  project.resources = {{"installers", 2, {}}};
  const Plan plan = solved(project);
  EXPECT_EQ(plan.status, Status::infeasible);
  EXPECT_EQ(plan.culprits, (std::vector<std::size_t>{1}));
  EXPECT_NE(plan.reason.find("large sheet"), std::string::npos);
}

TEST(Solve, SaysWhichTwoTasksFitInNeitherOrder) {
  Project project;
  project.tasks = {task("a", 4, {1}), task("b", 4, {1})};
  project.lags = {no_later(0, 1, 3), no_later(1, 0, 3)};
  project.resources = {{"bay", 1, {}}};
  const Plan plan = solved(project);
  EXPECT_EQ(plan.status, Status::infeasible);
  EXPECT_EQ(plan.culprits, (std::vector<std::size_t>{0, 1}));
}

TEST(Solve, ADeadlineThatTheWorkCannotMeetIsProven) {
  Project project;
  for (int k = 0; k < 6; ++k) project.tasks.push_back(task(std::to_string(k), 2 + k % 3, {1}));
  project.resources = {{"installers", 2, {}}};
  project.deadline = 9;  // 18 steps of work on two pairs of hands: just enough
  EXPECT_EQ(solved(project, 200).status, Status::optimal);
  project.deadline = 8;
  EXPECT_EQ(solved(project, 200).status, Status::infeasible);
}

TEST(Solve, NoRoundsGiveNoNo) {
  Project project = shared("rcpsp-max/ubo20/psp2.sch");
  project.deadline = kNever;
  Options options;
  options.iterations = 0;
  const auto plan = solve(project, options, Context());
  ASSERT_TRUE(plan);
  // Either proven before the search, or open; never a plan.
  EXPECT_TRUE(plan->starts.empty());
  EXPECT_TRUE(plan->status == Status::infeasible || plan->status == Status::unknown);
}

TEST(Solve, RefusesNonsenseByName) {
  Project project;
  project.tasks = {task("a", -1)};
  const auto plan = solve(project, {}, Context());
  ASSERT_FALSE(plan);
  EXPECT_EQ(plan.error().where, "task a");
}

TEST(Solve, ThreadsAndRunsDoNotChangeThePlan) {
  const Project project = shared("rcpsp/j60/j609_1.sm");
  host::ThreadExecutor two(2);
  Options options;
  options.seed = 7;
  options.iterations = 4;
  const auto serial = solve(project, options, Context());
  const auto parallel = solve(project, options, Context({}, {}, &two));
  ASSERT_TRUE(serial && parallel);
  EXPECT_EQ(*serial, *parallel);
  EXPECT_EQ(*serial, *solve(project, options, Context()));
}

struct Known {
  const char* file;
  Time end;  // 0: infeasible
};

class BestKnown : public testing::TestWithParam<Known> {};

// Source: PSPLIB and ProGen/max instances with the best known values of the shared table.
TEST_P(BestKnown, IsReachedAndProven) {
  const auto [file, end] = GetParam();
  const Plan plan = solved(shared(file), 100);
  EXPECT_EQ(plan.status, end == 0 ? Status::infeasible : Status::optimal);
  EXPECT_EQ(plan.makespan, end);
}

INSTANTIATE_TEST_SUITE_P(
    Instances, BestKnown,
    testing::Values(Known{"rcpsp/j30/j301_1.sm", 43}, Known{"rcpsp/j30/j302_1.sm", 38},
                    Known{"rcpsp/j120/j1209_1.sm", 88}, Known{"rcpsp-max/j10/PSP1.SCH", 26},
                    Known{"rcpsp-max/j30/PSP117.SCH", 142}, Known{"rcpsp-max/ubo50/psp28.sch", 181},
                    Known{"rcpsp-max/ubo100/psp15.sch", 275}, Known{"rcpsp-max/j10/PSP2.SCH", 0},
                    Known{"rcpsp-max/j30/PSP1.SCH", 0}, Known{"rcpsp-max/ubo50/psp1.sch", 0}));

}  // namespace
}  // namespace film::planning
