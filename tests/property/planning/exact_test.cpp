#include "planning/detail/exact.h"

#include <gtest/gtest.h>

#include "base/rng.h"
#include "planning/shop_plan.h"
#include "planning/verify_shop_plan.h"
#include "unit/planning/shop_brute_force.h"

namespace film::planning {
namespace {

// The outside fact: every plan of shops small enough to try them all.
TEST(PlaceExactly, FindsAPlanExactlyWhenTryingEverythingDoes) {
  Rng rng(808);
  int possible = 0;
  int impossible = 0;
  while (possible + impossible < 400) {
    const Shop shop = tiny_shop(rng);
    const std::vector<Job> jobs{tiny_job("a", rng), tiny_job("b", rng)};
    if (fault_of(shop, jobs, 0)) continue;
    const auto exact = detail::place_exactly(shop, jobs, ShopPlan(2), {0, 1}, 0, 1000000);
    const bool can = all_can_be_kept(shop, jobs);
    ASSERT_EQ(exact.outcome, can ? detail::Exact::Outcome::found : detail::Exact::Outcome::none);
    (can ? possible : impossible) += 1;
    if (!can) continue;
    const auto breaches = verify_shop_plan(shop, jobs, exact.plans);
    ASSERT_TRUE(breaches.empty()) << breaches[0].text;
    for (std::size_t j = 0; j < jobs.size(); ++j) {
      ASSERT_LE(exact.plans[j].end(), jobs[j].promise);
    }
  }
  EXPECT_GT(possible, 80);
  EXPECT_GT(impossible, 80);
}

TEST(PlaceExactly, LeavesOtherJobsWhereTheyAre) {
  Rng rng(809);
  int found = 0;
  for (int round = 0; round < 400; ++round) {
    const Shop shop = tiny_shop(rng);
    const std::vector<Job> jobs{tiny_job("a", rng), tiny_job("b", rng)};
    if (fault_of(shop, jobs, 0)) continue;
    ShopOptions options;
    options.iterations = 0;
    auto plan = plan_shop(shop, jobs, options, Context())->plan;
    if (plan[0].slots.empty()) continue;
    plan[1] = {};
    auto exact = detail::place_exactly(shop, jobs, plan, {1}, 0, 1000000);
    if (exact.outcome != detail::Exact::Outcome::found) continue;
    plan[1] = std::move(exact.plans[0]);
    ASSERT_TRUE(verify_shop_plan(shop, jobs, plan).empty());
    ++found;
  }
  EXPECT_GT(found, 100);
}

TEST(PlanShop, ReplansNeverBreakAPromiseThatTryingEverythingKeeps) {
  Rng rng(810);
  int could = 0;
  while (could < 100) {
    const Shop shop = tiny_shop(rng);
    std::vector<Job> jobs{tiny_job("a", rng), tiny_job("b", rng)};
    if (fault_of(shop, jobs, 0)) continue;
    ShopOptions options;
    options.iterations = 50;
    const auto first = plan_shop(shop, jobs, options, Context());
    if (first->score.unplanned > 0 || first->score.broken > 0) continue;
    jobs[rng.below(2)].tasks[0].work += 1;
    if (!all_can_be_kept(shop, jobs)) continue;
    options.running = &first->plan;
    const auto again = plan_shop(shop, jobs, options, Context());
    ASSERT_EQ(again->score.unplanned, 0);
    ASSERT_EQ(again->score.broken, 0);
    ++could;
  }
}

}  // namespace
}  // namespace film::planning
