#pragma once

#include <chrono>
#include <string>
#include <vector>

#include "base/rng.h"
#include "base/text.h"
#include "planning/calendar.h"
#include "planning/scope.h"
#include "planning/shop_model.h"

namespace film::planning {

/// An invented shop from Monday 2026-06-01, 00:00 UTC, on steps of five minutes: eight people (two
/// of them part-time) on weekdays 08:00 to 17:00 with a break at noon, four bays, `days` of
/// calendar.
inline Shop invented_shop(int days = 60) {
  using namespace std::chrono;
  using namespace std::chrono_literals;
  Shop shop;
  shop.origin = sys_days(2026y / 6 / 1);
  shop.skills = {"prepare",     "correct paint", "cut film", "install film",
                 "window film", "coat",          "inspect"};
  shop.features = {"clean", "heated"};
  shop.bays = {{"bay 1", {0, 1}}, {"bay 2", {0, 1}}, {"bay 3", {0}}, {"bay 4", {0}}};
  const std::vector<std::vector<int>> levels{
      {1, 0, 0, 3, 1, 0, 2}, {1, 0, 0, 2, 0, 1, 0}, {1, 0, 0, 2, 2, 0, 0}, {1, 2, 0, 1, 0, 2, 0},
      {1, 0, 2, 0, 0, 0, 1}, {1, 1, 1, 0, 0, 1, 0}, {1, 0, 0, 2, 0, 0, 1}, {1, 0, 1, 1, 1, 0, 0}};
  for (std::size_t p = 0; p < levels.size(); ++p) {
    Calendar calendar;
    for (std::size_t day = 0; day < (p >= 6 ? 3u : 5u); ++day) {
      calendar.week[day] = {{{8h, 17h}, {{12h, 13h}}}};
    }
    const year_month_day first = 2026y / 6 / 1;
    const auto time =
        working_time(calendar, shop.zone, first, sys_days(first) + std::chrono::days(days));
    shop.people.push_back(
        {format("person {}", p + 1), levels[p], on_steps(*time, shop.origin, shop.step)});
  }
  return shop;
}

inline constexpr Time kDay = 288;  ///< five-minute steps

/// A job of random scope: a few zones up to a full body.
inline Job invented_job(const Shop& shop, std::string id, Rng& rng, std::size_t most_zones = 6) {
  Scope scope;
  const std::size_t zones = 1 + rng.below(most_zones);
  for (std::size_t z = 0; z < zones; ++z) {
    scope.zones.push_back(
        {format("zone {}", z + 1), rng.uniform(0.5, 2.0), 0.2, rng.uniform() < 0.15});
  }
  if (rng.uniform() < 0.3) scope.correction_hours = rng.uniform(1, 4);
  scope.badges = rng.uniform() < 0.4;
  if (rng.uniform() < 0.3) scope.windows = {{"rear", rng.uniform(1, 2)}};
  if (rng.uniform() < 0.3) scope.lamps = {{"front", rng.uniform(0.5, 1)}};
  if (rng.uniform() < 0.3) scope.coats = 1 + static_cast<int>(rng.below(2));
  return *job_of(shop, usual_templates(), scope, std::move(id));
}

/// About `tasks` tasks that arrive over two weeks, promised with some room.
inline std::vector<Job> invented_jobs(const Shop& shop, std::size_t tasks, std::uint64_t seed) {
  Rng rng(seed);
  std::vector<Job> jobs;
  for (std::size_t count = 0; count < tasks;) {
    Job job = invented_job(shop, format("job {}", jobs.size() + 1), rng);
    count += job.tasks.size();
    job.arrives = static_cast<Time>(kDay * rng.below(10) + 8 * 12);
    job.promise = job.arrives + static_cast<Time>(kDay * (4 + rng.below(7)));
    jobs.push_back(std::move(job));
  }
  return jobs;
}

}  // namespace film::planning
