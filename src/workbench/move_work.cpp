#include "workbench/move_work.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "planning/verify_shop_plan.h"

namespace film::workbench {
namespace {

using namespace planning;

std::vector<Slip> slips_of(const PlanDesk& desk, const ShopPlan& plan) {
  std::vector<Slip> slips;
  for (std::size_t j = 0; j < plan.size(); ++j) {
    const Slip slip{j, desk.file.jobs[j].promise, desk.file.running[j].end(), plan[j].end()};
    if (slip.after > slip.promised && slip.after > slip.before) slips.push_back(slip);
  }
  return slips;
}

/// Whether the planner's answer is a plan for the jobs as they are.
bool holds(const PlanDesk& desk, const ShopPlan& plan) {
  for (std::size_t j = 0; j < plan.size(); ++j) {
    if (plan[j].slots.empty() && !desk.file.running[j].slots.empty()) return false;
  }
  return verify_shop_plan(desk.file.shop, desk.file.jobs, plan, desk.now).empty();
}

Result<Slot> wanted_slot(const PlanDesk& desk, std::size_t j, std::size_t i, const WorkMove& move,
                         Time from) {
  const Shop& shop = desk.file.shop;
  const ShopTask& task = desk.file.jobs[j].tasks[i];
  Slot slot = desk.file.running[j].slots[i];
  if (!move.person.empty() && !slot.people.empty()) {
    const auto person = person_named(desk, move.person);
    if (!person) return Failure(person.error());
    std::size_t hand = 0;
    if (slot.people.size() == 2 && shop.people[slot.people[1]].id == move.instead_of) hand = 1;
    slot.people[hand] = *person;
  }
  slot.span = {from, from + task.work};
  if (!slot.people.empty()) {
    WorkLine line = shop.people[slot.people[0]].hours;
    if (slot.people.size() == 2) line = common(line, shop.people[slot.people[1]].hours);
    const auto span = line.fit(from, task.work, task.pause);
    if (!span) {
      return fail(ErrorCode::conflict, "nobody works long enough after that time", "from", "");
    }
    slot.span = *span;
  }
  return slot;
}

void move_task(MoveAnswer& answer, std::size_t j, std::size_t i, const Slot& slot,
               const Context& context) {
  const PlanDesk& desk = answer.desk;
  const exchange::ShopFile& file = desk.file;
  ShopPlan plain = file.running;
  plain[j].slots[i] = slot;
  const auto breaches = verify_shop_plan(file.shop, file.jobs, plain, desk.now);
  for (const Breach& breach : breaches) answer.reasons.push_back(breach.text);
  if (breaches.empty()) {
    answer.stands = true;
    answer.plan = std::move(plain);
    return;
  }
  // Held there, the others may make room; the verifier then judges it as any other task.
  std::vector<Job> jobs = plannable(desk);
  jobs[j].tasks[i].fixed = slot;
  ShopOptions options;
  options.now = desk.now;
  options.iterations = 120;
  options.mending = 2000;
  options.running = &file.running;
  auto made = plan_shop(file.shop, jobs, options, context);
  if (!made || !holds(desk, made->plan)) return;
  answer.stands = true;
  answer.others_move = true;
  answer.plan = std::move(made->plan);
}

Result<void> move_vehicle(MoveAnswer& answer, std::size_t j, const WorkMove& move, Time from,
                          const Context& context) {
  const PlanDesk& desk = answer.desk;
  const exchange::ShopFile& file = desk.file;
  std::vector<Job> jobs = plannable(desk);
  Job& job = jobs[j];
  job.arrives = std::max(job.arrives, from);
  if (!move.bay.empty()) {
    const auto bay = std::find_if(file.shop.bays.begin(), file.shop.bays.end(),
                                  [&move](const Bay& each) { return each.id == move.bay; });
    if (bay == file.shop.bays.end()) {
      return fail(ErrorCode::not_found, format("there is no bay \"{}\"", move.bay), "bay", "");
    }
    const auto index = static_cast<std::size_t>(bay - file.shop.bays.begin());
    bool suited = false;
    for (std::size_t k = 0; k < job.stages.size(); ++k) {
      if (job.stages[k].bay || !suits(file.shop, index, job.stages[k])) continue;
      job.stages[k].bay = index;
      suited = true;
    }
    if (!suited) {
      answer.reasons.push_back(
          format("{} has not what this work needs, or it stands elsewhere already", move.bay));
      return {};
    }
  }
  ShopPlan others = file.running;
  others[j] = {};
  ShopOptions options;
  options.now = desk.now;
  options.iterations = 0;
  options.mending = 0;
  options.running = &others;
  auto made = plan_shop(file.shop, jobs, options, context);
  if (!made) return Failure(made.error());
  if (!holds(desk, made->plan)) {
    answer.reasons.push_back("there is no room for it after that time");
    return {};
  }
  answer.stands = true;
  answer.plan = std::move(made->plan);
  Time first = kNever;
  for (std::size_t i = 0; i < job.tasks.size(); ++i) {
    if (!job.tasks[i].fixed) first = std::min(first, answer.plan[j].slots[i].span.from);
  }
  if (first > from) {
    answer.reasons.push_back(format("it can begin {}", when(file.shop, first)));
  }
  return {};
}

}  // namespace

Result<MoveAnswer> try_move(Workbench& workbench, const WorkMove& move, const Context& context) {
  auto desk = plan_desk(workbench);
  if (!desk) return Failure(desk.error());
  const auto j = job_named(*desk, move.job);
  if (!j) return Failure(j.error());
  const auto from = exchange::step_of(desk->file.shop, move.from);
  if (!from) return Failure(from.error());
  MoveAnswer answer;
  answer.desk = *std::move(desk);
  answer.plan = answer.desk.file.running;
  if (answer.plan[*j].slots.empty()) {
    return fail(ErrorCode::conflict, "the job has no place in the plan", move.job, "");
  }
  if (*from < answer.desk.now) {
    answer.reasons.push_back("that time has passed");
    return answer;
  }
  if (move.task.empty()) {
    if (auto done = move_vehicle(answer, *j, move, *from, context); !done) {
      return Failure(done.error());
    }
  } else {
    const auto i = task_named(answer.desk.file.jobs[*j], move.task);
    if (!i) return Failure(i.error());
    if (answer.desk.file.jobs[*j].tasks[*i].fixed) {
      return fail(ErrorCode::conflict, "it has begun", move.task, "Report a delay instead.");
    }
    const auto slot = wanted_slot(answer.desk, *j, *i, move, *from);
    if (!slot) return Failure(slot.error());
    move_task(answer, *j, *i, *slot, context);
  }
  answer.slips = slips_of(answer.desk, answer.plan);
  return answer;
}

Result<MoveAnswer> keep_move(Workbench& workbench, const WorkMove& move, const std::string& who,
                             const Context& context) {
  auto answer = try_move(workbench, move, context);
  if (!answer) return answer;
  if (!answer->stands) {
    return fail(ErrorCode::conflict,
                answer->reasons.empty() ? "it cannot be done there" : answer->reasons.front(),
                move.task.empty() ? move.job : move.task, "Choose another place.");
  }
  answer->desk.file.running = answer->plan;
  const auto j = job_named(answer->desk, move.job);
  const std::string what =
      format("{} moved to {}",
             move.task.empty() ? answer->desk.file.titles[*j]
                               : format("{}, {}", answer->desk.file.titles[*j], move.task),
             move.from);
  if (auto kept = keep_plan(workbench, answer->desk, what, who); !kept) {
    return Failure(kept.error());
  }
  answer->plan = answer->desk.file.running;
  return answer;
}

}  // namespace film::workbench
