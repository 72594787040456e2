#include "planning/promise.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "host/thread_executor.h"
#include "planning/shortage.h"
#include "planning/verify_shop_plan.h"
#include "unit/planning/shop_brute_force.h"
#include "unit/planning/shop_case.h"

namespace film::planning {
namespace {

TEST(Shortage, SmallShopsAgreeWithTryingEverything) {
  Rng rng(11);
  int possible = 0;
  int impossible = 0;
  int proven = 0;
  int found = 0;
  for (int round = 0; round < 250; ++round) {
    const Shop shop = tiny_shop(rng);
    const std::vector<Job> jobs{tiny_job("a", rng), tiny_job("b", rng)};
    if (fault_of(shop, jobs, 0)) continue;
    const bool kept = all_can_be_kept(shop, jobs);
    const auto shortage = find_shortage(shop, jobs, 0);
    ShopOptions options;
    options.iterations = 200;
    const auto answer = plan_shop(shop, jobs, options, Context());
    ASSERT_TRUE(answer);
    ASSERT_TRUE(verify_shop_plan(shop, jobs, answer->plan).empty());
    const bool by_search = answer->score.unplanned == 0 && answer->score.broken == 0;
    if (kept) {
      ++possible;
      found += by_search ? 1 : 0;
      EXPECT_FALSE(shortage) << round << ": " << shortage->reason;
    } else {
      ++impossible;
      proven += shortage ? 1 : 0;
      EXPECT_FALSE(by_search) << round;
    }
  }
  RecordProperty("possible", possible);
  RecordProperty("found", found);
  RecordProperty("impossible", impossible);
  RecordProperty("proven", proven);
  EXPECT_GT(possible, 40);
  EXPECT_GT(impossible, 40);
  EXPECT_GT(found * 10, possible * 8);
  EXPECT_GT(proven * 10, impossible * 6);
}

TEST(Shortage, ALackOfHandsIsToldInHours) {
  Shop shop = invented_shop(14);
  shop.people.resize(1);  // one installer, Monday to Friday, eight hours a day
  shop.crowd = 2;
  Job job;
  job.id = "van";
  job.promise = 2 * kDay + 17 * 12;  // Wednesday 17:00
  for (int i = 0; i < 5; ++i) {
    ShopTask task;
    task.id = format("zone {}", i + 1);
    task.work = 5 * 12 + 12 * (i == 0 ? 2 : 0);
    task.hands = {{3, 1}};
    job.tasks.push_back(task);
  }
  const auto shortage = find_shortage(shop, {job}, 0);
  ASSERT_TRUE(shortage);
  EXPECT_EQ(shortage->reason,
            "needs 27 h of install film between Mon 06-01 08:00 and Wed 06-03 17:00 (van), only "
            "24 h are on shift of people who can");
  EXPECT_EQ(shortage->tasks.size(), 5u);
  job.tasks.pop_back();
  EXPECT_FALSE(find_shortage(shop, {job}, 0));  // 22 h fit
}

TEST(Shortage, AChainThatIsTooLongIsToldStepByStep) {
  const Shop shop = invented_shop();
  Rng rng(2);
  Job job = invented_job(shop, "van", rng);
  job.promise = 14 * 12;  // Monday 14:00
  const auto shortage = find_shortage(shop, {job}, 0);
  ASSERT_TRUE(shortage);
  EXPECT_EQ(shortage->kind, Shortage::Kind::chain);
  EXPECT_NE(shortage->reason.find("even with everybody free, hand over ends no sooner than"),
            std::string::npos)
      << shortage->reason;
}

TEST(Promise, TheQuantileIsARankAmongTheRuns) {
  std::vector<Time> ends;
  for (Time t = 99; t >= 1; --t) ends.push_back(t);
  EXPECT_EQ(quantile(ends, 0.9), 90);
  EXPECT_EQ(quantile(ends, 0.5), 50);
  ends.assign(99, 7);
  std::fill_n(ends.begin(), 89, 5);
  EXPECT_EQ(quantile(ends, 0.9), 5);  // one in a hundred short, the next is nine over
  std::fill_n(ends.begin(), 89, 7);
  std::fill_n(ends.begin(), 80, 5);
  EXPECT_EQ(quantile(ends, 0.9), 7);      // ten short is too much
  EXPECT_EQ(quantile({5}, 0.9), kNever);  // too few runs to say
}

TEST(Promise, WithoutSpreadARunNeverEndsAfterThePlan) {
  const Shop shop = invented_shop();
  auto jobs = invented_jobs(shop, 120, 2);
  for (Job& job : jobs) {
    for (ShopTask& task : job.tasks) task.spread = 0;
  }
  const auto answer = plan_shop(shop, jobs, {}, Context());
  ASSERT_TRUE(answer);
  const auto simulation = simulate(shop, jobs, answer->plan, 1, 3);
  for (std::size_t j = 0; j < jobs.size(); ++j) {
    for (const Time end : simulation.ends[j]) EXPECT_LE(end, answer->plan[j].end());
  }
}

// Mean and deviation of a log-normal number are those asked for, by definition.
TEST(Promise, DurationsHaveTheSpreadAskedFor) {
  Shop shop;
  shop.skills = {"lay"};
  shop.people = {{"one", {1}, WorkLine({{0, 100000}})}};
  Job job;
  job.id = "van";
  ShopTask task;
  task.id = "lay";
  task.work = 1000;
  task.spread = 0.3;
  task.hands = {{0, 1}};
  job.tasks = {task};
  const auto simulation = simulate(shop, {job}, {{{{{0, 1000}, {0}}}, {}}}, 5, 20000);
  double sum = 0;
  double squares = 0;
  for (const Time end : simulation.ends[0]) {
    sum += end;
    squares += static_cast<double>(end) * end;
  }
  const double mean = sum / 20000;
  EXPECT_NEAR(mean, 1000, 4 * 300 / std::sqrt(20000.0));
  EXPECT_NEAR(std::sqrt(squares / 20000 - mean * mean), 300, 12);
}

// One installer, Monday 08:00 to 17:00 with an hour at noon: six hours promised for Monday, six
// urgent.
TEST(Rush, TheJobThatGivesWaySlipsToTuesdayAndAnExtraHandSavesIt) {
  Shop shop = invented_shop(14);
  shop.people.resize(1);
  const auto lay = [](const std::string& id) {
    ShopTask task;
    task.id = "lay film";
    task.work = 6 * 12;
    task.hands = {{3, 1}};
    Job job;
    job.id = id;
    job.promise = 17 * 12;
    job.tasks = {task};
    return job;
  };
  Running running{{lay("van")}, {}};
  running.plan = plan_shop(shop, running.jobs, {}, Context())->plan;
  ASSERT_EQ(running.plan[0].end(), 15 * 12);
  const auto no = fits_by(shop, running, lay("urgent"), 17 * 12, {}, Context());
  ASSERT_TRUE(no);
  EXPECT_EQ(no->fits, Fits::no);
  EXPECT_EQ(no->reason,
            "needs 12 h of install film between Mon 06-01 08:00 and Mon 06-01 17:00 (urgent, van), "
            "only 8 h are on shift of people who can");
  const auto answer = rush(shop, running, lay("urgent"), 17 * 12, {}, Context());
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->urgent.fits, Fits::yes);
  const std::vector<Slip> slips{{0, 17 * 12, 15 * 12, kDay + 12 * 12}};
  EXPECT_EQ(answer->slips, slips);
  ASSERT_FALSE(answer->remedies.empty());
  EXPECT_EQ(answer->remedies[0].text.substr(0, 32), "an extra hand for \"install film\"");
  EXPECT_TRUE(answer->remedies[0].left.empty());
  for (const Remedy& remedy : answer->remedies) {
    EXPECT_EQ(remedy.text.find("2 h longer"), std::string::npos);  // ten hours are not twelve
  }
}

class AtTheCounter : public testing::Test {
 protected:
  AtTheCounter() {
    running.jobs = invented_jobs(shop, 200, 21);
    ShopOptions plan;
    plan.iterations = 200;
    running.plan = plan_shop(shop, running.jobs, plan, Context())->plan;
    Rng rng(4);
    urgent = invented_job(shop, "urgent", rng, 4);
    urgent.arrives = 8 * 12;
    options.iterations = 100;
    options.runs = 200;
  }
  Shop shop = invented_shop();
  Running running;
  Job urgent;
  PromiseOptions options;
};

TEST_F(AtTheCounter, APromiseIsLaterTheSurerItIsAndBreaksNoOther) {
  const auto sure = earliest_promise(shop, running, urgent, options, Context());
  options.confidence = 0.5;
  const auto even = earliest_promise(shop, running, urgent, options, Context());
  ASSERT_TRUE(sure && even);
  EXPECT_GT(sure->promise, even->promise);
  EXPECT_LT(sure->promise, kNever);
  auto jobs = running.jobs;
  jobs.push_back(urgent);
  EXPECT_TRUE(verify_shop_plan(shop, jobs, sure->plan).empty());
  const Score before = score_of(running.jobs, running.plan, nullptr);
  const Score after = score_of(jobs, sure->plan, nullptr);
  EXPECT_LE(after.broken, before.broken);
}

TEST_F(AtTheCounter, FitsSaysYesWithAPlanAndNoWithAProof) {
  const auto yes = fits_by(shop, running, urgent, 40 * kDay, options, Context());
  ASSERT_TRUE(yes);
  ASSERT_EQ(yes->fits, Fits::yes) << yes->reason;
  EXPECT_LE(yes->plan.back().end(), 40 * kDay);
  const auto no = fits_by(shop, running, urgent, 12 * 12, options, Context());
  ASSERT_TRUE(no);
  EXPECT_EQ(no->fits, Fits::no);
  EXPECT_FALSE(no->tasks.empty());
  EXPECT_NE(no->reason.find("urgent"), std::string::npos);
}

TEST_F(AtTheCounter, ARushNamesWhatSlipsAndRemediesLeaveLess) {
  const auto answer = rush(shop, running, urgent, 2 * kDay + 17 * 12, options, Context());
  ASSERT_TRUE(answer);
  const auto& plan = answer->urgent.plan;
  EXPECT_EQ(answer->urgent.fits == Fits::yes, plan.back().end() <= 2 * kDay + 17 * 12);
  for (const Slip& slip : answer->slips) {
    EXPECT_EQ(slip.after, plan[slip.job].end());
    EXPECT_GT(slip.after, slip.promised);
  }
  for (const Remedy& remedy : answer->remedies) {
    EXPECT_TRUE(remedy.in_time);
    EXPECT_TRUE(remedy.left.size() < answer->slips.size() || answer->urgent.fits != Fits::yes);
  }

  host::ThreadExecutor three(3);
  const auto beside =
      rush(shop, running, urgent, 2 * kDay + 17 * 12, options, Context({}, {}, &three));
  ASSERT_TRUE(beside);
  ASSERT_EQ(beside->remedies.size(), answer->remedies.size());
  for (std::size_t k = 0; k < answer->remedies.size(); ++k) {
    EXPECT_EQ(beside->remedies[k].text, answer->remedies[k].text);
    EXPECT_EQ(beside->remedies[k].left.size(), answer->remedies[k].left.size());
  }
}

}  // namespace
}  // namespace film::planning
