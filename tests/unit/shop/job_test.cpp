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
  constexpr JobState kAll[] = {JobState::scoped, JobState::laid_out, JobState::cut_planned,
                               JobState::released, JobState::cancelled};
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
