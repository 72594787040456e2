#include "shop/job.h"

#include <algorithm>

#include <gtest/gtest.h>

namespace film::shop {
namespace {

Job job_in(JobState state) {
  Job job;
  job.id = "J-0001";
  job.title = "Front";
  job.vehicle = "wagon";
  job.scope = {{"hood", "clear"}, {"roof", "black"}, {"door", "clear"}};
  job.state = state;
  return job;
}

TEST(Job, TheFilmOfMostPanelsLeads) {
  EXPECT_EQ(films_of(job_in(JobState::scoped)), (std::vector<std::string>{"clear", "black"}));
}

TEST(Job, OnlyTheMovesListedAreDone) {
  constexpr JobState kAll[] = {JobState::scoped,      JobState::laid_out,   JobState::cut_planned,
                               JobState::released,    JobState::installing, JobState::inspected,
                               JobState::handed_over, JobState::cancelled};
  for (const JobState from : kAll) {
    const Job job = job_in(from);
    const auto moves = moves_of(job);
    for (const JobState to : kAll) {
      const bool listed = std::find(moves.begin(), moves.end(), to) != moves.end();
      const auto moved = move(job, to, "a reason");
      EXPECT_EQ(moved.has_value(), listed);
      if (moved) {
        EXPECT_EQ(moved->state, to);
        EXPECT_EQ(moved->revision, job.revision + 1);
      } else {
        EXPECT_EQ(moved.error().code, ErrorCode::conflict);
      }
    }
  }
}

TEST(Job, NothingIsReleasedBeforeItsKnifePathIsPlanned) {
  EXPECT_FALSE(move(job_in(JobState::scoped), JobState::released, "hurry"));
  EXPECT_FALSE(move(job_in(JobState::laid_out), JobState::released, "hurry"));
  EXPECT_TRUE(move(job_in(JobState::cut_planned), JobState::released, ""));
}

TEST(Job, CancellingAndGoingBackNeedAReason) {
  EXPECT_EQ(move(job_in(JobState::scoped), JobState::cancelled, "").error().code,
            ErrorCode::invalid_input);
  EXPECT_FALSE(move(job_in(JobState::released), JobState::scoped, ""));
  EXPECT_TRUE(move(job_in(JobState::released), JobState::scoped, "piece torn"));
}

// Worked out by hand from the words: nothing skips an inspection without a reason.
TEST(Job, EveryMoveOfALifeIsAllowedOrRefusedAsWritten) {
  constexpr JobState kAll[] = {JobState::scoped,      JobState::laid_out,   JobState::cut_planned,
                               JobState::released,    JobState::installing, JobState::inspected,
                               JobState::handed_over, JobState::cancelled};
  constexpr const char* kAllowed[] = {
      // s l c r i n h x
      "0000000r",  // scoped
      "0000000r",  // laid out
      "0001000r",  // cut planned
      "r000100r",  // released
      "0000010r",  // installing
      "0000r01r",  // inspected
      "00000000",  // handed over
      "00000000",  // cancelled
  };
  for (std::size_t i = 0; i < 8; ++i) {
    for (std::size_t k = 0; k < 8; ++k) {
      const Job job = job_in(kAll[i]);
      const StepsDone all{true, true, true};
      EXPECT_EQ(move(job, kAll[k], "", all).has_value(), kAllowed[i][k] == '1') << i << k;
      EXPECT_EQ(move(job, kAll[k], "a reason", all).has_value(), kAllowed[i][k] != '0') << i << k;
    }
  }
}

TEST(Job, AStepIsSkippedOnlyWithAReason) {
  const Job laid = job_in(JobState::installing);
  EXPECT_EQ(move(laid, JobState::inspected, "", {false, true, true}).error().code,
            ErrorCode::conflict);
  EXPECT_EQ(move(laid, JobState::inspected, "", {true, false, true}).error().code,
            ErrorCode::conflict);
  EXPECT_TRUE(move(laid, JobState::inspected, "inspected by the lessor", {true, false, true}));
  EXPECT_TRUE(move(laid, JobState::inspected, "", {true, true, false}));
  const Job found_good = job_in(JobState::inspected);
  EXPECT_FALSE(move(found_good, JobState::handed_over, "", {true, true, false}));
  EXPECT_TRUE(move(found_good, JobState::handed_over, "fetched by a carrier", {}));
  EXPECT_EQ(skipped_step(JobState::inspected, {true, true, false}), "");
  EXPECT_NE(skipped_step(JobState::handed_over, {true, true, false}), "");
}

TEST(Job, StateFollowsFromTheWork) {
  const Job job = job_in(JobState::scoped);
  EXPECT_EQ(state_by_work(job, {2, 1, 0}), JobState::scoped);
  EXPECT_EQ(state_by_work(job, {2, 2, 1}), JobState::laid_out);
  EXPECT_EQ(state_by_work(job, {2, 2, 2}), JobState::cut_planned);
  EXPECT_EQ(state_by_work(job_in(JobState::cut_planned), {2, 2, 1}), JobState::laid_out);
  EXPECT_EQ(state_by_work(job_in(JobState::released), {2, 0, 0}), JobState::released);
}

TEST(Job, APanelIsCoveredOnce) {
  Job job = job_in(JobState::scoped);
  EXPECT_TRUE(check(job));
  job.scope.push_back({"hood", "black"});
  ASSERT_FALSE(check(job));
  EXPECT_NE(check(job).error().what.find("hood"), std::string::npos);
  job.scope.clear();
  EXPECT_FALSE(check(job));
}

}  // namespace
}  // namespace film::shop
