#include "workbench/ask_plan.h"

#include <utility>

#include "planning/promise.h"

namespace film::workbench {
namespace {

struct Asked {
  PlanDesk desk;
  planning::Running running;
  planning::Job job;
  planning::PromiseOptions options;
};

Result<Asked> prepare(Workbench& workbench, const PlanOrder& order, bool by_a_time) {
  auto desk = plan_desk(workbench);
  if (!desk) return Failure(desk.error());
  auto work = planned_work(workbench, *desk, order);
  if (!work) return Failure(work.error());
  if (by_a_time && work->first.promise >= planning::kNever) {
    return fail(ErrorCode::invalid_input, "the time asked for is missing", "promise",
                "Say by when it must be done.");
  }
  Asked asked;
  asked.running = {plannable(*desk), desk->file.running};
  asked.job = std::move(work->first);
  asked.job.id = work->second;  // as people call it, in the reasons
  asked.options.now = desk->now;
  asked.desk = *std::move(desk);
  return asked;
}

}  // namespace

Result<PromiseReply> ask_promise(Workbench& workbench, const PlanOrder& order, double chance,
                                 const Context& context) {
  auto asked = prepare(workbench, order, false);
  if (!asked) return Failure(asked.error());
  asked->options.confidence = chance;
  auto answer = planning::earliest_promise(asked->desk.file.shop, asked->running, asked->job,
                                           asked->options, context);
  if (!answer) return Failure(answer.error());
  return PromiseReply{std::move(asked->desk), *std::move(answer)};
}

Result<FitReply> ask_fits(Workbench& workbench, const PlanOrder& order, const Context& context) {
  auto asked = prepare(workbench, order, true);
  if (!asked) return Failure(asked.error());
  auto answer = planning::fits_by(asked->desk.file.shop, asked->running, asked->job,
                                  asked->job.promise, asked->options, context);
  if (!answer) return Failure(answer.error());
  return FitReply{std::move(asked->desk), std::move(asked->job), *std::move(answer)};
}

Result<RushReply> ask_rush(Workbench& workbench, const PlanOrder& order, const Context& context) {
  auto asked = prepare(workbench, order, true);
  if (!asked) return Failure(asked.error());
  auto answer = planning::rush(asked->desk.file.shop, asked->running, asked->job,
                               asked->job.promise, asked->options, context);
  if (!answer) return Failure(answer.error());
  return RushReply{std::move(asked->desk), std::move(asked->job), *std::move(answer)};
}

}  // namespace film::workbench
