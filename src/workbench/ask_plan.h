#pragma once

#include <string>

#include "workbench/book_plan_job.h"

namespace film::workbench {

/// Answers at the counter; nothing is changed.
struct PromiseReply {
  PlanDesk desk;
  planning::PromiseAnswer answer;
};
struct FitReply {
  PlanDesk desk;
  planning::Job job;
  planning::FitAnswer answer;
};
struct RushReply {
  PlanDesk desk;
  planning::Job job;
  planning::RushAnswer answer;
};

/// When can we promise it at that chance (0.5 to 0.99), every kept promise kept? Errors: those of
/// planned_work.
Result<PromiseReply> ask_promise(Workbench& workbench, const PlanOrder& order, double chance,
                                 const Context& context);
/// Does it fit by its promise: yes with a plan, no with a proof, or not found.
Result<FitReply> ask_fits(Workbench& workbench, const PlanOrder& order, const Context& context);
/// If it goes before all others: which promises slip, and what would save them.
Result<RushReply> ask_rush(Workbench& workbench, const PlanOrder& order, const Context& context);

}  // namespace film::workbench
