#include "unit/planning/brute_force.h"

#include <gtest/gtest.h>

#include "base/rng.h"
#include "base/text.h"
#include "planning/bounds.h"
#include "planning/lags.h"
#include "planning/solve.h"
#include "planning/verify.h"
#include "unit/planning/shop.h"

namespace film::planning {
namespace {

constexpr Time kHorizon = 24;

int draw(Rng& rng, int least, int most) {
  return least + static_cast<int>(rng.below(static_cast<std::size_t>(most - least + 1)));
}

// Small, tight projects with everything in them; about half have no plan.
Project random_project(Rng& rng, bool maximum_lags) {
  Project project;
  const int tasks = draw(rng, 1, 5);
  const int resources = draw(rng, 1, 5);  // more than one packed word sometimes
  for (int r = 0; r < resources; ++r) {
    Resource resource{format("R{}", r), draw(rng, 1, 3), {}};
    if (rng.below(4) == 0) {
      const Time from = draw(rng, 0, 6);
      resource.absences.push_back({from, from + draw(rng, 0, 4), draw(rng, 0, 2)});
    }
    project.resources.push_back(resource);
  }
  for (int i = 0; i < tasks; ++i) {
    Task made = task(format("{}", i), draw(rng, 0, 4));
    for (int r = 0; r < resources; ++r) {
      made.needs.push_back(rng.below(2) == 0 ? 0 : draw(rng, 0, 3));
    }
    if (rng.below(6) == 0) made.earliest = draw(rng, 0, 5);
    if (maximum_lags && rng.below(6) == 0) made.latest = made.earliest + draw(rng, 0, 5);
    project.tasks.push_back(made);
  }
  const int lags = draw(rng, 0, 6);
  for (int k = 0; k < lags; ++k) {
    const auto a = rng.below(static_cast<std::size_t>(tasks));
    const auto b = rng.below(static_cast<std::size_t>(tasks));
    if (a == b) continue;
    if (maximum_lags) {
      project.lags.push_back({a, b, draw(rng, -4, 3)});
    } else {
      project.lags.push_back({std::min(a, b), std::max(a, b), draw(rng, 0, 4)});
    }
  }
  if (maximum_lags && rng.below(3) == 0) project.deadline = draw(rng, 4, 12);
  return project;
}

void agree_with_brute_force(std::uint64_t seed, int cases, bool maximum_lags) {
  Rng rng(seed);
  int infeasible = 0;
  for (int k = 0; k < cases; ++k) {
    const Project project = random_project(rng, maximum_lags);
    Options options;
    options.iterations = 50;
    const auto plan = solve(project, options, Context());
    ASSERT_TRUE(plan) << "seed " << seed << " case " << k;
    const auto best = BruteForce(project, kHorizon).best_end();
    if (!best) {
      ++infeasible;
      // A shortest plan of five tasks of at most 4 steps and lags of at most 4 ends within
      // 10 + 5 * 4 steps: beyond the horizon of the brute force only without any plan at all, or
      // when fixed dates are late.
      if (plan->status != Status::infeasible) {
        ASSERT_GT(plan->makespan, kHorizon) << "seed " << seed << " case " << k;
        ASSERT_TRUE(verify(project, plan->starts).empty()) << "seed " << seed << " case " << k;
      }
      continue;
    }
    ASSERT_EQ(plan->status, Status::optimal)
        << "seed " << seed << " case " << k << ": " << plan->reason;
    ASSERT_EQ(plan->makespan, *best) << "seed " << seed << " case " << k;
    ASSERT_TRUE(verify(project, plan->starts).empty()) << "seed " << seed << " case " << k;
    const StartWindows windows = start_windows(project);
    ASSERT_FALSE(windows.impossible());
    ASSERT_LE(lower_bound(project, windows).end, *best) << "seed " << seed << " case " << k;
  }
  EXPECT_GT(infeasible, cases / 20);
  EXPECT_LT(infeasible, cases * 19 / 20);
}

TEST(SolveAgainstBruteForce, WithMinimumLags) { agree_with_brute_force(51, 1500, false); }

TEST(SolveAgainstBruteForce, WithMaximumLags) { agree_with_brute_force(52, 3000, true); }

}  // namespace
}  // namespace film::planning
