#include "workbench/plan_job_cut.h"

#include <optional>
#include <vector>

#include "base/text.h"
#include "base/units.h"
#include "exchange/cut_json.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/job_glass.h"
#include "workbench/lay_out_job.h"

namespace film::workbench {
namespace {

cutting::CutJob cut_job(const LayoutView& layout) {
  cutting::CutJob job;
  job.length = layout.kept.length;
  for (const auto& laid : layout.sheet.pieces) {
    job.shapes.push_back({laid.item, laid.outline, laid.slits, laid.zone});
  }
  return job;
}

Result<CutView> plan_layout_cut(Workbench& workbench, const CutOrder& order,
                                const std::string& film, const std::string& roll,
                                const Context& context) {
  const std::string& job_id = order.job;
  const std::string& profile_id = order.profile;
  const auto layout = read_layout(workbench, job_id, film, roll);
  if (!layout) return Failure(layout.error());
  const auto planned =
      workbench.store().look([&](store::Book& book) { return find_job(book, job_id); });
  if (!planned) return Failure(planned.error());
  if (auto decided = check_decided(workbench, *planned, layout->kept.film); !decided) {
    return Failure(decided.error());
  }
  const auto profile =
      workbench.store().look([&](store::Book& book) { return find_profile(book, profile_id); });
  if (!profile) return Failure(profile.error());
  if (layout->kept.width > profile->settings.media_width) {
    return fail(ErrorCode::invalid_input,
                format("a roll of {:.0f} mm does not go into a plotter for {:.0f} mm",
                       layout->kept.width.value, profile->settings.media_width.value),
                "profile " + profile_id, "Choose a wider plotter or lay out on a narrower roll.");
  }
  const auto machine = loaded(profile->settings, layout->kept);
  auto plan = cutting::plan_cut(cut_job(*layout), machine, {}, context);
  if (!plan) return Failure(plan.error());

  CutView view{{layout->kept.job,
                layout->kept.film,
                layout->kept.roll,
                layout->kept.sheet,
                profile_id,
                plan->cut_mm,
                plan->travel_mm,
                plan->estimated,
                now(),
                {},
                {}},
               layout->kept.width,
               layout->kept.length,
               std::move(*plan)};
  const std::string path = exchange::write_cut_plan(view.plan);
  const auto plot = cutting::emit_hpgl(view.plan, machine);
  if (!plot) return Failure(plot.error());
  return workbench.store().change([&](store::Book& book) -> Result<CutView> {
    auto job = find_job(book, job_id);
    if (!job) return Failure(job.error());
    if (auto open = check_open(*job); !open) return Failure(open.error());
    const auto current = find_layout(book, *job, view.kept.film, view.kept.roll);
    if (!current) return Failure(current.error());
    if (current->sheet != view.kept.sheet) {
      return fail(ErrorCode::conflict, "the layout changed while its knife path was planned",
                  "job " + job->id, "Plan the knife path again.");
    }
    view.kept.path = book.put_blob(path);
    view.kept.plot = book.put_blob(*plot);
    book.put(view.kept);
    const shop::HistoryEntry entry{
        view.kept.made, order.who, "knife path planned",
        format("{} on {}: {} contours, {:.1f} m cut, about {:.0f} s, profile {}", view.kept.film,
               view.kept.roll, view.plan.contours.size(), view.kept.cut_mm / 1000,
               view.kept.estimated.value, profile_id)};
    if (auto recorded = record_work(book, std::move(*job), entry); !recorded) {
      return Failure(recorded.error());
    }
    return std::move(view);
  });
}

}  // namespace

Result<CutView> plan_job_cut(Workbench& workbench, const CutOrder& order, const Context& context) {
  const auto first = read_layout(workbench, order.job, order.film, order.roll);
  if (!first) return Failure(first.error());
  const std::string& film = first->kept.film;
  std::vector<std::string> rolls{first->kept.roll};
  if (order.roll.empty()) {
    const auto layouts =
        workbench.store().look([&](store::Book& book) { return book.layouts(order.job); });
    if (!layouts) return Failure(layouts.error());
    for (const shop::KeptLayout& layout : *layouts) {
      if (layout.film == film && layout.roll != rolls.front()) rolls.push_back(layout.roll);
    }
  }
  std::optional<CutView> answer;
  for (const std::string& roll : rolls) {
    auto view = plan_layout_cut(workbench, order, film, roll, context);
    if (!view) return view;
    if (!answer) answer = std::move(*view);
  }
  return std::move(*answer);
}

Result<CutView> read_cut(Workbench& workbench, const std::string& job_id, const std::string& film,
                         const std::string& roll) {
  return workbench.store().look([&](store::Book& book) -> Result<CutView> {
    const auto job = find_job(book, job_id);
    if (!job) return Failure(job.error());
    const auto which = film_of(*job, film);
    if (!which) return Failure(which.error());
    const auto layout = find_layout(book, *job, *which, roll);
    if (!layout) return Failure(layout.error());
    auto kept = find_cut(book, *job, *which, layout->roll);
    if (!kept) return Failure(kept.error());
    const auto bytes = book.blob(kept->path);
    if (!bytes) return Failure(bytes.error());
    auto plan = exchange::read_cut_plan(*bytes, "kept knife path");
    if (!plan) return Failure(plan.error());
    return CutView{std::move(*kept), layout->width, layout->length, std::move(*plan)};
  });
}

}  // namespace film::workbench
