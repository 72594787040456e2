#include "workbench/promise_offer.h"

#include <algorithm>

#include "planning/promise.h"
#include "workbench/ask_plan.h"
#include "workbench/price_list.h"

namespace film::workbench {
namespace {

// Enough to fit one vehicle in beside a week's work; the counter's own question searches longer.
constexpr std::int64_t kRounds = 20;
constexpr int kRuns = 100;

std::optional<std::string> wall_clock(const planning::Shop& shop, planning::Time time) {
  if (time >= planning::kNever) return std::nullopt;
  return exchange::wall_time(shop, time);
}

}  // namespace

Result<OfferPromise> promise_offer(Workbench& workbench, const OfferOrder& order,
                                   const Context& context) {
  const auto list = price_list(workbench);
  if (!list) return Failure(list.error());
  OfferPromise promise;
  promise.chance = static_cast<double>(list->promise_chance.millionths) / 1e6;
  if (order.scope.empty()) {
    promise.reason = "nothing is chosen yet";
    return promise;
  }
  auto desk = plan_desk(workbench);
  if (!desk) {
    if (desk.error().code != ErrorCode::not_found) return Failure(desk.error());
    promise.reason = desk.error().what;
    return promise;
  }
  const auto vehicle = workbench.vehicle(order.vehicle, order.vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  auto work =
      work_on(workbench, *desk, **vehicle, order.scope, {0, order.coating ? 1 : 0}, "offer");
  if (!work) {  // a skill or a stage that the shop's way of working has not
    promise.reason = work.error().message();
    return promise;
  }
  work->arrives = std::max(work->arrives, desk->now);
  planning::PromiseOptions options;
  options.now = desk->now;
  options.confidence = promise.chance;
  options.runs = kRuns;
  options.iterations = desk->file.jobs.empty() ? 0 : kRounds;
  const auto answer = planning::earliest_promise(
      desk->file.shop, {plannable(*desk), desk->file.running}, *work, options, context);
  if (!answer) {
    promise.reason = answer.error().message();
    return promise;
  }
  promise.by = wall_clock(desk->file.shop, answer->promise);
  promise.planned = wall_clock(desk->file.shop, answer->planned);
  if (!promise.by) promise.reason = "the calendar of people and bays has no room for it";
  return promise;
}

}  // namespace film::workbench
