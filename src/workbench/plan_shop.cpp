#include "workbench/plan_shop.h"

#include <utility>

#include "base/assert.h"
#include "host/zones.h"
#include "planning/verify_shop_plan.h"

namespace film::workbench {

Result<PlannedShop> plan_shop(std::string_view bytes, const planning::PromiseOptions& options,
                              const Context& context) {
  auto file = exchange::read_shop_file(bytes, host::find_zone);
  if (!file) return Failure(file.error());
  PlannedShop made{*std::move(file), {}};
  const planning::Shop& shop = made.file.shop;
  planning::ShopOptions search;
  search.seed = options.seed;
  search.iterations = options.iterations;
  search.now = options.now;
  auto answer = planning::plan_shop(shop, made.file.jobs, search, context);
  if (!answer) return Failure(answer.error());
  FILM_ASSERT(planning::verify_shop_plan(shop, made.file.jobs, answer->plan, options.now).empty());
  exchange::ShopOutcome& outcome = made.outcome;
  outcome.answer = *std::move(answer);
  if (outcome.answer.score.unplanned > 0 || outcome.answer.score.broken > 0) {
    outcome.shortage = planning::find_shortage(shop, made.file.jobs, options.now);
  }
  auto simulation =
      planning::simulate(shop, made.file.jobs, outcome.answer.plan, options.seed, options.runs);
  for (auto& ends : simulation.ends) {
    outcome.sure.push_back(planning::quantile(std::move(ends), options.confidence));
  }
  if (made.file.urgent) {
    const planning::Running running{made.file.jobs, outcome.answer.plan};
    const planning::Job& urgent = *made.file.urgent;
    auto promise = planning::earliest_promise(shop, running, urgent, options, context);
    if (!promise) return Failure(promise.error());
    auto rush = planning::rush(shop, running, urgent, urgent.promise, options, context);
    if (!rush) return Failure(rush.error());
    outcome.promise = *std::move(promise);
    outcome.rush = *std::move(rush);
  }
  return made;
}

}  // namespace film::workbench
