#include "workbench/book_plan_job.h"

#include <algorithm>
#include <map>
#include <span>
#include <utility>

#include "base/text.h"
#include "geometry/trimesh.h"
#include "hours/model.h"
#include "planning/scope.h"
#include "store/store.h"

namespace film::workbench {
namespace {

using namespace planning;

/// From about this on two people lay a panel (practice, no source).
constexpr double kTwoPeopleSquareMetres = 1.0;

double edge_length(const shop::Panel& panel) {
  double length = 0;
  for (const auto& edge : panel.edges) {
    for (std::size_t k = 1; k < edge.path.size(); ++k) {
      length +=
          distance(panel.surface.points[edge.path[k - 1]], panel.surface.points[edge.path[k]]);
    }
  }
  return length / 1000;
}

hours::Amounts amounts_of(const shop::Panel& panel) {
  hours::Amounts amounts{};
  const auto at = [&amounts](hours::Term term) -> double& {
    return amounts[static_cast<std::size_t>(term)];
  };
  const double area = surface_area(panel.surface) / 1e6;
  at(hours::Term::piece) = 1;
  at(hours::Term::area) = area;
  at(hours::Term::tuck) = edge_length(panel);
  if (panel.finish == shop::Finish::glass) at(hours::Term::glass) = area;
  const bool lamp = panel.finish == shop::Finish::lamp || panel.finish == shop::Finish::reflector;
  if (lamp) at(hours::Term::lamp) = area;
  if (panel.zone == "roof" || panel.zone == "sills") at(hours::Term::awkward) = area;
  at(hours::Term::obstacle) = (panel.badge ? 1 : 0) + (panel.sensor ? 1 : 0);
  return amounts;
}

/// Body film by zone of the vehicle, each window and lamp on its own.
Scope scope_of(const std::vector<shop::ScopeItem>& items, const shop::VehicleModel& vehicle) {
  const hours::Model model{hours::Belief{}};
  Scope scope;
  std::map<std::string, std::pair<std::vector<hours::Amounts>, bool>> zones;
  for (const auto& item : items) {
    const shop::Panel* panel = shop::find_panel(vehicle, item.panel);
    if (panel == nullptr) continue;
    const hours::Amounts amounts = amounts_of(*panel);
    scope.badges = scope.badges || panel->badge;
    const bool glass = panel->finish == shop::Finish::glass;
    const bool lamp =
        panel->finish == shop::Finish::lamp || panel->finish == shop::Finish::reflector;
    if (glass || lamp) {
      const auto estimate = model.estimate(std::span(&amounts, 1), "");
      const ZoneWork work{panel->name, std::max(0.1, estimate.minutes.mean / 60), 0.2, false};
      (glass ? scope.windows : scope.lamps).push_back(work);
      continue;
    }
    auto& zone = zones[panel->zone];
    zone.first.push_back(amounts);
    zone.second = zone.second || surface_area(panel->surface) / 1e6 >= kTwoPeopleSquareMetres;
  }
  for (const auto& [name, work] : zones) {
    const auto estimate = model.estimate(work.first, "");
    scope.zones.push_back({name, std::max(0.1, estimate.minutes.mean / 60), 0.2, work.second});
  }
  return scope;
}

Result<std::pair<Job, std::string>> work_of_job(Workbench& workbench, const PlanDesk& desk,
                                                const PlanOrder& order) {
  auto job = workbench.store().look([&order](store::Book& book) { return book.job(order.job); });
  if (!job) return Failure(job.error());
  if (!*job) return fail(ErrorCode::not_found, "there is no such job", "job " + order.job, "");
  const auto vehicle = workbench.vehicle((*job)->vehicle, (*job)->vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  auto work =
      work_on(desk, **vehicle, (*job)->scope, {order.correction_hours, order.coats}, (*job)->id);
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

Result<Job> work_on(const PlanDesk& desk, const shop::VehicleModel& vehicle,
                    const std::vector<shop::ScopeItem>& items, const PlanExtras& extras,
                    std::string id) {
  Scope scope = scope_of(items, vehicle);
  scope.correction_hours = extras.correction_hours;
  scope.coats = extras.coats;
  return job_of(desk.file.shop, desk.file.templates, scope, std::move(id));
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
