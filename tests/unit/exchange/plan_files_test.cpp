#include "exchange/plan_files.h"

#include <gtest/gtest.h>

namespace film::exchange {
namespace {

const char* const kLags =
    "2 1 0 0\n"
    "0 1 2 1 2 [0] [0]\n"
    "1 1 2 3 2 [4] [-3]\n"
    "2 1 1 3 [5]\n"
    "3 1 0\n"
    "0 1 0 0\n1 1 4 1\n2 1 5 2\n3 1 0 0\n"
    "2\n";

TEST(PlanFiles, ReadLagsFromStartToStart) {
  const auto project = read_project(kLags);
  ASSERT_TRUE(project) << project.error().message();
  ASSERT_EQ(project->tasks.size(), 4U);
  EXPECT_EQ(project->lags[3], (planning::Lag{1, 2, -3}));
  EXPECT_EQ(project->tasks[2].duration, 5);
  EXPECT_EQ(project->tasks[2].needs, (std::vector<int>{2}));
  EXPECT_EQ(project->resources[0].capacity, 2);
}

TEST(PlanFiles, NameTheLineThatIsWrong) {
  std::string broken = kLags;
  broken.replace(broken.find("[4]"), 3, "[x]");
  const auto project = read_progen_max(broken);
  ASSERT_FALSE(project);
  EXPECT_EQ(project.error().where, "line 3");
}

TEST(PlanFiles, RefuseAFileCutShortAnywhere) {
  const std::string whole = kLags;
  for (std::size_t size = 0; size + 3 < whole.size(); ++size) {
    EXPECT_FALSE(read_progen_max(whole.substr(0, size))) << size;
  }
}

const char* const kJobs =
    "jobs (incl. supersource/sink ):  3\n"
    "RESOURCES\n  - renewable : 1 R\n  - nonrenewable : 0 N\n"
    "PRECEDENCE RELATIONS:\njobnr. #modes #successors successors\n"
    " 1 1 1 2\n 2 1 1 3\n 3 1 0\n"
    "****\nREQUESTS/DURATIONS:\njobnr. mode duration R 1\n-----\n"
    " 1 1 0 0\n 2 1 7 2\n 3 1 0 0\n"
    "****\nRESOURCEAVAILABILITIES:\n R 1\n 4\n****\n";

TEST(PlanFiles, ReadSuccessorsAsLagsOfTheDuration) {
  const auto project = read_project(kJobs);
  ASSERT_TRUE(project) << project.error().message();
  EXPECT_EQ(project->lags, (std::vector<planning::Lag>{{0, 1, 0}, {1, 2, 7}}));
  EXPECT_EQ(project->tasks[1].needs, (std::vector<int>{2}));
  EXPECT_EQ(project->resources[0].capacity, 4);
}

TEST(PlanFiles, RefuseWhatIsNotPlanned) {
  std::string file = kJobs;
  file.replace(file.find("nonrenewable : 0"), 16, "nonrenewable : 2");
  EXPECT_EQ(read_psplib(file).error().code, ErrorCode::unsupported);
  file = kJobs;
  file.replace(file.find(" 2 1 1 3"), 8, " 2 1 1 9");
  EXPECT_EQ(read_psplib(file).error().code, ErrorCode::invalid_input);
  file = kJobs;
  file.erase(file.find("RESOURCEAVAIL"));
  EXPECT_FALSE(read_psplib(file));
  EXPECT_FALSE(read_project(""));
}

}  // namespace
}  // namespace film::exchange
