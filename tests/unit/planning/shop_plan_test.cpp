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
