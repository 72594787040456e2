#include "planning/shop_plan.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "planning/verify_shop_plan.h"
#include "unit/planning/shop_case.h"

namespace film::planning {
namespace {

std::string told(const std::vector<Breach>& breaches) {
  std::string text;
  for (const Breach& breach : breaches) text += breach.text + "\n";
  return text;
}

TEST(ShopPlan, PlansOfGeneratedShopsPassTheVerifier) {
  const Shop shop = invented_shop();
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    const auto jobs = invented_jobs(shop, 60 + 20 * seed, seed);
    ShopOptions options;
    options.iterations = 40;
    options.seed = seed;
    const auto answer = plan_shop(shop, jobs, options, Context());
    ASSERT_TRUE(answer) << answer.error().message();
    EXPECT_EQ(answer->score.unplanned, 0);
    EXPECT_EQ(told(verify_shop_plan(shop, jobs, answer->plan)), "");
  }
}

TEST(ShopPlan, TheSameSeedAndRoundsGiveTheSamePlanAndMoreRoundsNoWorse) {
  const Shop shop = invented_shop();
  const auto jobs = invented_jobs(shop, 150, 3);
  ShopOptions options;
  options.iterations = 0;
  const auto first = plan_shop(shop, jobs, options, Context());
  options.iterations = 60;
  const auto once = plan_shop(shop, jobs, options, Context());
  const auto again = plan_shop(shop, jobs, options, Context());
  ASSERT_TRUE(first && once && again);
  EXPECT_EQ(once->plan, again->plan);
  EXPECT_LT(once->score, first->score);
}

TEST(ShopPlan, AStopEndsItWithAPlan) {
  const Shop shop = invented_shop();
  const auto jobs = invented_jobs(shop, 100, 4);
  const auto answer = plan_shop(shop, jobs, {}, Context([] { return true; }));
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->iterations, 0);
  EXPECT_EQ(answer->score.unplanned, 0);
}

TEST(ShopPlan, FaultsNameTheTasks) {
  const Shop shop = invented_shop();
  Rng rng(5);
  const Job good = invented_job(shop, "van", rng);
  const auto message = [&](const Job& job, Time now = 0) {
    const auto fault = fault_of(shop, {job}, now);
    return fault ? fault->message() : "";
  };
  EXPECT_EQ(message(good), "");

  Job circle = good;
  circle.afters.push_back({1, 0});  // wash after decontaminate, which is after wash
  EXPECT_NE(message(circle).find("in a circle: wash, decontaminate, wash"), std::string::npos)
      << message(circle);

  Job nobody = good;
  nobody.tasks[0].hands = {{0, 9}};
  EXPECT_EQ(message(nobody),
            "van, wash: no one can \"prepare\" at level 9. Train or hire somebody, or lower the "
            "level");

  Job empty = good;
  empty.tasks[2].work = 0;
  EXPECT_NE(message(empty).find("takes no time"), std::string::npos);

  Job past = good;
  past.promise = 10;
  EXPECT_NE(message(past, 20).find("already passed"), std::string::npos);
}

TEST(ShopPlan, TheVerifierRefusesEveryKindOfBreach) {
  const Shop shop = invented_shop();
  const auto jobs = invented_jobs(shop, 120, 6);
  const auto answer = plan_shop(shop, jobs, {}, Context());
  ASSERT_TRUE(answer);
  ASSERT_EQ(told(verify_shop_plan(shop, jobs, answer->plan)), "");
  const auto has = [&](const ShopPlan& plan, Breach::Kind kind) {
    const auto found = verify_shop_plan(shop, jobs, plan);
    return std::any_of(found.begin(), found.end(),
                       [kind](const Breach& breach) { return breach.kind == kind; });
  };
  ShopPlan plan = answer->plan;
  plan[0].slots.pop_back();
  EXPECT_TRUE(has(plan, Breach::Kind::shape));
  plan = answer->plan;
  plan[0].slots[0].span = {0, jobs[0].tasks[0].work};
  EXPECT_TRUE(has(plan, Breach::Kind::arrival));
  EXPECT_TRUE(has(plan, Breach::Kind::shift));
  plan = answer->plan;
  plan[0].slots[0].span.until += 1;
  EXPECT_TRUE(has(plan, Breach::Kind::shift));
  plan = answer->plan;
  std::swap(plan[0].slots[0].span, plan[0].slots[1].span);
  EXPECT_TRUE(has(plan, Breach::Kind::after));
  plan = answer->plan;
  for (JobPlan& job : plan) {
    for (std::size_t& bay : job.bays) bay = 0;
  }
  EXPECT_TRUE(has(plan, Breach::Kind::bay));
  plan = answer->plan;
  for (JobPlan& job : plan) {
    for (Slot& slot : job.slots) {
      for (std::size_t& person : slot.people) person = 0;
    }
  }
  EXPECT_TRUE(has(plan, Breach::Kind::person));
  EXPECT_TRUE(has(plan, Breach::Kind::skill));
}

TEST(ShopPlan, StartedWorkStaysAndAReplanMovesLittle) {
  const Shop shop = invented_shop();
  auto jobs = invented_jobs(shop, 200, 8);
  for (Job& job : jobs) job.promise = kNever;
  const auto before = plan_shop(shop, jobs, {}, Context());
  ASSERT_TRUE(before);
  const Time noon = kDay + 144;  // Tuesday 12:00
  std::size_t open = 0;
  for (std::size_t j = 0; j < jobs.size(); ++j) {
    for (std::size_t i = 0; i < jobs[j].tasks.size(); ++i) {
      ShopTask& task = jobs[j].tasks[i];
      const Slot& slot = before->plan[j].slots[i];
      if (slot.span.from < noon) {
        task.fixed = slot;
        if (task.stage) jobs[j].stages[*task.stage].bay = before->plan[j].bays[*task.stage];
      } else {
        ++open;
      }
    }
  }
  ShopOptions options;
  options.now = noon;
  options.running = &before->plan;
  options.iterations = 50;
  const auto same = plan_shop(shop, jobs, options, Context());
  ASSERT_TRUE(same);
  EXPECT_EQ(same->score.moved, 0);
  EXPECT_EQ(told(verify_shop_plan(shop, jobs, same->plan, noon)), "");

  // One task that has not begun takes two hours more.
  for (std::size_t j = 0; j < jobs.size(); ++j) {
    const auto late = std::find_if(jobs[j].tasks.begin(), jobs[j].tasks.end(),
                                   [](const ShopTask& t) { return !t.fixed && t.stage; });
    if (late == jobs[j].tasks.end()) continue;
    late->work += 24;
    break;
  }
  const auto after = plan_shop(shop, jobs, options, Context());
  ASSERT_TRUE(after);
  EXPECT_EQ(told(verify_shop_plan(shop, jobs, after->plan, noon)), "");
  EXPECT_EQ(after->score.unplanned, 0);
  EXPECT_LT(after->score.moved, static_cast<int>(open) / 3);
}

// Reports may have two vehicles stand in one bay; what is left to do at both is planned all the
// same, while a vehicle that is not there yet waits for the bay.
TEST(ShopPlan, VehiclesThatBothStandInABayDoNotKeepOneAnotherOut) {
  Shop shop = invented_shop();
  shop.bays = {{"only", {0, 1}}};
  const Time morning = 8 * 12;
  const auto job = [](const std::string& id) {
    Job made;
    made.id = id;
    made.stages = {{}};
    for (const char* const name : {"lay", "tuck"}) {
      ShopTask task;
      task.id = name;
      task.work = 12;
      task.hands = {{3, 1}};
      task.stage = 0;
      made.tasks.push_back(task);
    }
    made.afters.push_back({0, 1});
    return made;
  };
  std::vector<Job> jobs{job("one"), job("two"), job("three")};
  jobs[0].tasks[0].fixed = Slot{{morning, morning + 12}, {0}};
  jobs[1].tasks[0].fixed = Slot{{morning + 6, morning + 18}, {1}};
  for (const std::size_t j : {0U, 1U}) jobs[j].stages[0].bay = 0;
  ShopOptions options;
  options.now = morning + 18;
  options.iterations = 20;
  const auto answer = plan_shop(shop, jobs, options, Context());
  ASSERT_TRUE(answer) << answer.error().message();
  EXPECT_EQ(answer->score.unplanned, 0);
  EXPECT_EQ(told(verify_shop_plan(shop, jobs, answer->plan, options.now)), "");
  EXPECT_GE(hold_of(jobs[2], answer->plan[2].slots, 0).from,
            std::max(answer->plan[0].end(), answer->plan[1].end()));

  // The verifier still refuses a vehicle that is driven in on top of them.
  ShopPlan plan = answer->plan;
  const Time shift = plan[2].slots[0].span.from - options.now;
  for (Slot& slot : plan[2].slots) slot.span = {slot.span.from - shift, slot.span.until - shift};
  EXPECT_NE(told(verify_shop_plan(shop, jobs, plan, options.now)).find("only is needed"),
            std::string::npos);
}

// A vehicle whose first task grows keeps the times and people of all tasks that the growth does not
// reach, instead of being planned from scratch.
TEST(ShopPlan, WhatADelayDoesNotReachStaysWhereItIs) {
  const Shop shop = invented_shop();
  auto jobs = invented_jobs(shop, 30, 7);
  ShopOptions options;
  options.iterations = 50;
  const auto before = plan_shop(shop, jobs, options, Context());
  ASSERT_TRUE(before);
  const std::size_t late = jobs[0].tasks.size() > jobs[1].tasks.size() ? 0 : 1;
  const auto wash = work_order(jobs[late]).front();
  jobs[late].tasks[wash].work += 1;
  options.running = &before->plan;
  const auto after = plan_shop(shop, jobs, options, Context());
  ASSERT_TRUE(after);
  EXPECT_EQ(told(verify_shop_plan(shop, jobs, after->plan)), "");
  int stay = 0;
  for (std::size_t i = 0; i < jobs[late].tasks.size(); ++i) {
    stay += after->plan[late].slots[i] == before->plan[late].slots[i] ? 1 : 0;
  }
  EXPECT_GT(stay, 0);
  for (std::size_t j = 0; j < jobs.size(); ++j) {
    if (j == late) continue;
    EXPECT_EQ(after->plan[j], before->plan[j]) << jobs[j].id;
  }
}

TEST(Scope, AFullScopeHasEveryTaskAndEachTuckFollowsItsOwnDrying) {
  const Shop shop = invented_shop();
  Scope scope;
  scope.zones = {{"hood", 2, 0.2, true}, {"roof", 1.5}};
  scope.windows = {{"rear", 1}};
  scope.lamps = {{"front", 1}};
  scope.correction_hours = 3;
  scope.badges = true;
  scope.coats = 2;
  const auto job = job_of(shop, usual_templates(), scope, "car");
  ASSERT_TRUE(job) << job.error().message();
  EXPECT_FALSE(fault_of(shop, {*job}, 0));
  EXPECT_EQ(job->stages.size(), 3u);
  EXPECT_EQ(job->tasks.size(), 20u);
  const auto task = [&](const std::string& id) {
    return static_cast<std::size_t>(std::find_if(job->tasks.begin(), job->tasks.end(),
                                                 [&](const ShopTask& t) { return t.id == id; }) -
                                    job->tasks.begin());
  };
  EXPECT_EQ(job->tasks[task("lay film hood")].hands.size(), 2u);
  EXPECT_EQ(job->tasks[task("lay film roof")].work, 18);
  const auto tied = [&](const std::string& from, const std::string& to) {
    return std::any_of(job->afters.begin(), job->afters.end(), [&](const After& after) {
      return after.from == task(from) && after.to == task(to);
    });
  };
  EXPECT_TRUE(tied("dry film hood", "tuck edges hood"));
  EXPECT_FALSE(tied("dry film hood", "tuck edges roof"));
  EXPECT_TRUE(tied("coat layer 1", "coat layer 2"));
  EXPECT_TRUE(tied("cut film", "lay film roof"));
}

TEST(Scope, AnUnknownSkillIsNamed) {
  Shop shop = invented_shop();
  shop.skills[0] = "sweep";
  Scope scope;
  const auto job = job_of(shop, usual_templates(), scope, "car");
  ASSERT_FALSE(job);
  EXPECT_EQ(job.error().what, "no skill named \"prepare\"");
}

}  // namespace
}  // namespace film::planning
