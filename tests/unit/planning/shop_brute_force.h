#pragma once

#include <algorithm>
#include <vector>

#include "base/rng.h"
#include "base/text.h"
#include "planning/shop_model.h"
#include "planning/verify_shop_plan.h"

namespace film::planning {

/// A shop small enough to try everything: two people, one or two bays, a dozen steps with gaps.
inline Shop tiny_shop(Rng& rng) {
  Shop shop;
  shop.skills = {"lay", "coat"};
  shop.features = {"clean"};
  shop.move = 1;
  for (int p = 0; p < 2; ++p) {
    const auto cut = static_cast<Time>(3 + rng.below(4));
    const auto gap = static_cast<Time>(rng.below(3));
    const auto begin = static_cast<Time>(rng.below(2));
    shop.people.push_back({format("person {}", p + 1),
                           {p == 0 ? 2 : 1, rng.uniform() < 0.6 || p == 1 ? 1 : 0},
                           WorkLine({{begin, cut}, {cut + gap, 12}})});
  }
  shop.bays = {{"bay 1", {0}}};
  if (rng.uniform() < 0.4) shop.bays.push_back({"bay 2", {}});
  return shop;
}

/// Two or three tasks in one stage, tied in a chain, with waits and maximum lags now and then.
inline Job tiny_job(const std::string& id, Rng& rng) {
  Job job;
  job.id = id;
  job.arrives = static_cast<Time>(rng.below(3));
  job.promise = static_cast<Time>(5 + rng.below(7));
  job.stages = {
      {rng.uniform() < 0.5 ? std::vector<std::size_t>{0} : std::vector<std::size_t>{}, {}}};
  const std::size_t count = 2 + rng.below(2);
  for (std::size_t i = 0; i < count; ++i) {
    ShopTask task;
    task.id = format("task {}", i + 1);
    task.work = static_cast<Time>(1 + rng.below(3));
    if (rng.uniform() < 0.8) task.hands = {{rng.below(2), rng.uniform() < 0.2 ? 2 : 1}};
    if (!task.hands.empty() && task.hands[0].skill == 1) task.hands[0].level = 1;
    if (rng.uniform() < 0.15) task.hands = {{0, 1}, {1, 1}};
    if (rng.uniform() < 0.2) task.pause = Pause::never;
    task.plotter = rng.uniform() < 0.15;
    if (rng.uniform() < 0.85 || i == 0) task.stage = 0;
    job.tasks.push_back(task);
    if (i == 0 || rng.uniform() < 0.2) continue;
    After after{i - 1, i, static_cast<Time>(rng.below(2)), kNever};
    if (rng.uniform() < 0.3) after.most = after.least + static_cast<Time>(rng.below(3));
    job.afters.push_back(after);
  }
  return job;
}

/// Every way to do one job alone by its promise.
inline std::vector<JobPlan> ways_of(const Shop& shop, const Job& job, std::size_t index) {
  std::vector<JobPlan> ways;
  JobPlan plan;
  plan.slots.resize(job.tasks.size());
  plan.bays.assign(job.stages.size(), 0);
  const auto people_of = [&](const ShopTask& task) {
    std::vector<std::vector<std::size_t>> crews;
    if (task.hands.empty()) return std::vector<std::vector<std::size_t>>{{}};
    for (std::size_t a = 0; a < shop.people.size(); ++a) {
      if (!can(shop.people[a], task.hands[0])) continue;
      if (task.hands.size() == 1) crews.push_back({a});
      for (std::size_t b = 0; task.hands.size() == 2 && b < shop.people.size(); ++b) {
        if (a != b && can(shop.people[b], task.hands[1])) crews.push_back({a, b});
      }
    }
    return crews;
  };
  // Spans that hold the work of a task on its own; the rest is left to verify_job.
  Job lone;
  lone.id = job.id;
  lone.arrives = job.arrives;
  std::vector<std::vector<Slot>> slots;
  for (const ShopTask& task : job.tasks) {
    lone.tasks = {task};
    lone.tasks[0].stage.reset();
    slots.emplace_back();
    for (const auto& crew : people_of(task)) {
      for (Time from = 0; from < job.promise; ++from) {
        for (Time until = from + 1; until <= job.promise; ++until) {
          const Slot slot{{from, until}, crew};
          if (verify_job(shop, lone, 0, {{slot}, {}}, 0).empty()) slots.back().push_back(slot);
        }
      }
    }
  }
  const auto fill = [&](auto&& self, std::size_t i) -> void {
    if (i == job.tasks.size()) {
      for (std::size_t bay = 0; bay < shop.bays.size(); ++bay) {
        std::fill(plan.bays.begin(), plan.bays.end(), bay);
        if (verify_job(shop, job, index, plan, 0).empty()) ways.push_back(plan);
      }
      return;
    }
    for (const Slot& slot : slots[i]) {
      plan.slots[i] = slot;
      self(self, i + 1);
    }
  };
  fill(fill, 0);
  return ways;
}

/// Whether some plan keeps every promise, by trying all.
inline bool all_can_be_kept(const Shop& shop, const std::vector<Job>& jobs) {
  std::vector<std::vector<JobPlan>> ways;
  for (std::size_t j = 0; j < jobs.size(); ++j) ways.push_back(ways_of(shop, jobs[j], j));
  ShopPlan plan(jobs.size());
  const auto fill = [&](auto&& self, std::size_t j) -> bool {
    if (j == jobs.size()) return true;
    for (const JobPlan& way : ways[j]) {
      plan[j] = way;
      if (verify_shop_plan(shop, jobs, plan).empty() && self(self, j + 1)) return true;
    }
    plan[j] = {};
    return false;
  };
  return fill(fill, 0);
}

}  // namespace film::planning
