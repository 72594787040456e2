#include "workbench/book_plan_job.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "planning/scope.h"
#include "store/store.h"
#include "workbench/detail/plan_scope.h"

namespace film::workbench {
namespace {

using namespace planning;

Result<std::pair<Job, std::string>> work_of_job(Workbench& workbench, const PlanDesk& desk,
                                                const PlanOrder& order) {
  auto job = workbench.store().look([&order](store::Book& book) { return book.job(order.job); });
  if (!job) return Failure(job.error());
  if (!*job) return fail(ErrorCode::not_found, "there is no such job", "job " + order.job, "");
  const auto vehicle = workbench.vehicle((*job)->vehicle, (*job)->vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  auto work = work_on(workbench, desk, **vehicle, (*job)->scope,
                      {order.correction_hours, order.coats}, (*job)->id);
  if (!work) return Failure(work.error());
  return std::pair{*std::move(work), (*job)->title};
}

/// P-0001 and so on: work that has no job in the book.
std::string next_id(const PlanDesk& desk) {
  int number = static_cast<int>(desk.version) + 1;
  while (job_named(desk, format("P-{:04}", number))) ++number;
  return format("P-{:04}", number);
}

}  // namespace

Result<Job> work_on(Workbench& workbench, const PlanDesk& desk, const shop::VehicleModel& vehicle,
                    const std::vector<shop::ScopeItem>& items, const PlanExtras& extras,
                    std::string id) {
  auto scope = plan_scope(workbench, vehicle, items);
  if (!scope) return Failure(scope.error());
  scope->correction_hours = extras.correction_hours;
  scope->coats = extras.coats;
  return job_of(desk.file.shop, desk.file.templates, *scope, std::move(id));
}

Result<std::pair<Job, std::string>> planned_work(Workbench& workbench, const PlanDesk& desk,
                                                 const PlanOrder& order) {
  auto work = order.job.empty() ? exchange::read_plan_job(order.text, desk.file)
                                : work_of_job(workbench, desk, order);
  if (!work) return work;
  Job& job = work->first;
  job.arrives = std::max(job.arrives, desk.now);
  for (const auto& [text, time] :
       {std::pair{&order.arrives, &job.arrives}, std::pair{&order.promise, &job.promise}}) {
    if (text->empty()) continue;
    const auto step = exchange::step_of(desk.file.shop, *text);
    if (!step) return Failure(step.error());
    *time = *step;
  }
  job.weight = order.weight;
  if (auto fault = fault_of(desk.file.shop, {job}, desk.now)) return Failure(*fault);
  return work;
}

Result<PlanDesk> book_plan_job(Workbench& workbench, const PlanOrder& order, const std::string& who,
                               const Context& context) {
  auto desk = plan_desk(workbench);
  if (!desk) return desk;
  auto work = planned_work(workbench, *desk, order);
  if (!work) return Failure(work.error());
  auto& [job, title] = *work;
  if (order.job.empty() && (job.id == "new" || job_named(*desk, job.id))) job.id = next_id(*desk);
  exchange::ShopFile& file = desk->file;
  const std::string what = format("{} booked", title);
  if (const auto known = job_named(*desk, job.id)) {
    file.jobs[*known].promise = job.promise;
    file.jobs[*known].arrives = job.arrives;
    file.jobs[*known].weight = job.weight;
  } else {
    file.finished.emplace_back(job.tasks.size(), 0);
    file.jobs.push_back(std::move(job));
    file.titles.push_back(title);
    file.running.emplace_back();
  }
  if (auto kept = plan_anew(workbench, *desk, what, who, context); !kept) {
    return Failure(kept.error());
  }
  return desk;
}

Result<PlanDesk> drop_plan_job(Workbench& workbench, const std::string& id, const std::string& who,
                               const Context& context) {
  auto desk = plan_desk(workbench);
  if (!desk) return desk;
  const auto found = job_named(*desk, id);
  if (!found) return Failure(found.error());
  exchange::ShopFile& file = desk->file;
  const auto& tasks = file.jobs[*found].tasks;
  if (std::any_of(tasks.begin(), tasks.end(), [](const ShopTask& t) { return t.fixed; })) {
    return fail(ErrorCode::conflict, "its work has begun", id,
                "Finish it, or report what is left.");
  }
  const std::string what = format("{} taken out", file.titles[*found]);
  const auto at = static_cast<std::ptrdiff_t>(*found);
  file.jobs.erase(file.jobs.begin() + at);
  file.titles.erase(file.titles.begin() + at);
  file.finished.erase(file.finished.begin() + at);
  file.running.erase(file.running.begin() + at);
  if (auto kept = plan_anew(workbench, *desk, what, who, context); !kept) {
    return Failure(kept.error());
  }
  return desk;
}

}  // namespace film::workbench
