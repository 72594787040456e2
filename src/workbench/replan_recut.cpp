#include "workbench/replan_recut.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/detail/plan_scope.h"
#include "workbench/report_work.h"

namespace film::workbench {
namespace {

using namespace planning;

/// The panel a piece is for: of that name, with that piece, or the one whose name it begins with.
const shop::Panel* panel_of(const shop::VehicleModel& vehicle, const std::string& piece) {
  const shop::Panel* found = shop::find_panel(vehicle, piece);
  if (found != nullptr) return found;
  for (const shop::Panel& panel : vehicle.panels) {
    const bool has = std::any_of(panel.pieces.begin(), panel.pieces.end(),
                                 [&piece](const auto& one) { return one.id == piece; });
    if (has) return &panel;
    const bool longer = found == nullptr || panel.id.size() > found->id.size();
    if (piece.starts_with(panel.id) && longer) found = &panel;
  }
  return found;
}

Result<PanelWork> work_of(Workbench& workbench, const shop::Recut& recut) {
  const auto job =
      workbench.store().look([&recut](store::Book& book) { return find_job(book, recut.job); });
  if (!job) return Failure(job.error());
  const auto vehicle = workbench.vehicle(job->vehicle, job->vehicle_version);
  if (!vehicle) return Failure(vehicle.error());
  const shop::Panel* panel = panel_of(**vehicle, recut.piece);
  if (panel == nullptr) return PanelWork{};
  return panel_work(workbench, **vehicle, job->scope, *panel);
}

/// Where the others stand now, held against where they stood.
void compare(const exchange::ShopFile& before, const std::string& spoiled, RecutReplan& made) {
  const exchange::ShopFile& after = made.desk.file;
  for (std::size_t j = 0; j < before.jobs.size(); ++j) {
    const auto now = job_named(made.desk, before.jobs[j].id);
    if (!now || before.running[j].slots.empty()) continue;
    const JobPlan& plan = after.running[*now];
    if (before.jobs[j].id == spoiled) {
      made.end = exchange::wall_time(after.shop, plan.end());
    } else {
      for (std::size_t i = 0; i < before.jobs[j].tasks.size(); ++i) {
        if (before.jobs[j].tasks[i].fixed) continue;
        ++made.open;
        const bool stays = !plan.slots.empty() && plan.slots[i] == before.running[j].slots[i];
        made.moved += stays ? 0 : 1;
      }
    }
    const Slip slip{*now, before.jobs[j].promise, before.running[j].end(), plan.end()};
    if (slip.after > slip.promised && slip.after > slip.before) made.slips.push_back(slip);
  }
}

}  // namespace

std::optional<RecutReplan> replan_recut(Workbench& workbench, const shop::Recut& recut,
                                        const std::string& who, const Context& context) {
  auto desk = plan_desk(workbench);
  if (!desk) return std::nullopt;  // no workplace, no plan
  const auto j = job_named(*desk, recut.job);
  if (!j) return std::nullopt;
  RecutReplan made;
  made.desk = *std::move(desk);
  const exchange::ShopFile before = made.desk.file;
  const auto refuse = [&made](const Error& error) {
    made.refused = error.message();
    return made;
  };
  const auto work = work_of(workbench, recut);
  if (!work) return refuse(work.error());
  auto again = spoil_work(made.desk, *j, work->part, work->share);
  if (!again) return refuse(again.error());
  if (again->empty()) return std::nullopt;
  const std::string what =
      format("{}, {} cut again ({})", before.titles[*j], recut.piece, recut.id);
  if (auto kept = plan_anew(workbench, made.desk, what, who, context); !kept) {
    return refuse(kept.error());
  }
  made.again = *std::move(again);
  compare(before, recut.job, made);
  return made;
}

}  // namespace film::workbench
