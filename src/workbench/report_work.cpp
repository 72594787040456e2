#include "workbench/report_work.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/text.h"
#include "store/store.h"

namespace film::workbench {
namespace {

using namespace planning;
using What = WorkReport::What;

struct Reported {
  PlanDesk& desk;
  std::size_t j = 0;
  std::size_t i = 0;
  Time at = 0;

  [[nodiscard]] Job& job() const { return desk.file.jobs[j]; }
  [[nodiscard]] ShopTask& task() const { return job().tasks[i]; }
  [[nodiscard]] JobPlan& plan() const { return desk.file.running[j]; }
};

/// Nothing before it is open, so that it can have begun.
Result<void> check_ready(const Reported& on) {
  for (const After& after : on.job().afters) {
    if (after.to != on.i || on.job().tasks[after.from].fixed) continue;
    return fail(ErrorCode::conflict,
                format("\"{}\" comes before it and has not begun", on.job().tasks[after.from].id),
                on.task().id, "Report that first.");
  }
  return {};
}

void fix(const Reported& on, Slot slot) { fix_task(on.desk.file, on.j, on.i, std::move(slot)); }

/// How long it takes from then on by these people.
Time end_of(const Shop& shop, const ShopTask& task, const std::vector<std::size_t>& people,
            Time from) {
  if (people.empty()) return from + task.work;
  WorkLine line = shop.people[people[0]].hours;
  if (people.size() == 2) line = common(line, shop.people[people[1]].hours);
  const auto span = line.fit(from, task.work, Pause::at_breaks);
  return span ? span->until : from + task.work;
}

Result<void> start(const Reported& on, const WorkReport& report) {
  if (on.desk.file.finished[on.j][on.i] != 0) {
    return fail(ErrorCode::conflict, "it is done already", on.task().id, "");
  }
  if (auto ready = check_ready(on); !ready) return ready;
  if (on.plan().slots.empty()) {
    return fail(ErrorCode::conflict, "the job has no place in the plan", on.job().id, "");
  }
  Slot slot = on.plan().slots[on.i];
  if (!report.person.empty()) {
    const auto person = person_named(on.desk, report.person);
    if (!person) return Failure(person.error());
    const auto& hands = on.task().hands;
    if (hands.empty() || !can(on.desk.file.shop.people[*person], hands[0])) {
      return fail(ErrorCode::invalid_input,
                  format("{} cannot do \"{}\"", report.person, on.task().id), "person",
                  "Choose somebody with the skill.");
    }
    slot.people[0] = *person;
  }
  slot.span = {on.at, end_of(on.desk.file.shop, on.task(), slot.people, on.at)};
  fix(on, std::move(slot));
  return {};
}

Result<void> finish(const Reported& on) {
  char& finished = on.desk.file.finished[on.j][on.i];
  if (finished != 0) return fail(ErrorCode::conflict, "it is done already", on.task().id, "");
  if (!on.task().fixed) {
    if (auto ready = check_ready(on); !ready) return ready;
    if (on.plan().slots.empty()) {
      return fail(ErrorCode::conflict, "the job has no place in the plan", on.job().id, "");
    }
  }
  Slot slot = on.task().fixed ? *on.task().fixed : on.plan().slots[on.i];
  slot.span.from = std::min(slot.span.from, std::max(0, on.at - 1));
  slot.span.until = std::max(on.at, slot.span.from + 1);
  fix(on, std::move(slot));
  finished = 1;
  return {};
}

Result<void> delay(const Reported& on, int minutes) {
  if (minutes < 1 || minutes > 20000) {
    return fail(ErrorCode::invalid_input, "a delay is 1 to 20,000 minutes", "minutes", "");
  }
  if (on.desk.file.finished[on.j][on.i] != 0) {
    return fail(ErrorCode::conflict, "it is done already", on.task().id, "");
  }
  const auto step = on.desk.file.shop.step.count();
  on.task().work += static_cast<Time>((minutes + step - 1) / step);
  if (on.task().fixed) {
    Slot slot = *on.task().fixed;
    slot.span.until = end_of(on.desk.file.shop, on.task(), slot.people, slot.span.from);
    fix(on, std::move(slot));
  }
  return {};
}

Time scaled(Time work, double share) {
  return std::max(1, static_cast<Time>(std::ceil(share * work)));
}

/// "lay film front" of "lay film front, 2".
std::string plain_name(const std::string& id) {
  const auto comma = id.rfind(", ");
  const bool numbered = comma != std::string::npos && comma + 2 < id.size() &&
                        std::all_of(id.begin() + static_cast<std::ptrdiff_t>(comma) + 2, id.end(),
                                    [](char c) { return c >= '0' && c <= '9'; });
  return numbered ? id.substr(0, comma) : id;
}

/// Whether the task is a template's for that part: "lay film front" for "front".
bool is_of(const PlanDesk& desk, const std::string& id, const std::string& part) {
  const auto& kinds = desk.file.templates.tasks;
  return !part.empty() && std::any_of(kinds.begin(), kinds.end(), [&](const TaskTemplate& kind) {
    return plain_name(id) == kind.id + " " + part;
  });
}

/// The task and all that has begun after it come again; what is open waits for the new ones. Of the
/// work on `part` only `share` comes again.
Result<void> redo(const Reported& on, const std::string& part = "", double share = 1) {
  if (!on.task().fixed) {
    return fail(ErrorCode::conflict, "it has not begun", on.task().id, "Report a delay instead.");
  }
  Job& job = on.job();
  std::vector<char> again(job.tasks.size(), 0);
  again[on.i] = 1;
  for (const std::size_t i : work_order(job)) {
    for (const After& after : job.afters) {
      if (after.to == i && again[after.from] != 0 && job.tasks[i].fixed) again[i] = 1;
    }
  }
  for (std::size_t i = 0; i < again.size(); ++i) {
    for (std::size_t k = 0; k < again.size(); ++k) {
      if (again[i] != 0 && job.tasks[i].stage && job.tasks[k].stage && job.tasks[k].fixed &&
          *job.tasks[k].stage > *job.tasks[i].stage) {
        return fail(ErrorCode::conflict,
                    format("the vehicle has moved on: \"{}\" has begun", job.tasks[k].id),
                    job.tasks[i].id, "Book the repair as work of its own.");
      }
    }
  }
  std::map<std::size_t, std::size_t> copy;
  for (std::size_t i = 0; i < again.size(); ++i) {
    if (again[i] == 0) continue;
    ShopTask task = job.tasks[i];
    task.fixed.reset();
    if (!task.hands.empty() && is_of(on.desk, task.id, part)) task.work = scaled(task.work, share);
    const std::string name = plain_name(task.id);
    int turn = 2;
    const auto named = [&job](const std::string& id) {
      return std::any_of(job.tasks.begin(), job.tasks.end(),
                         [&id](const ShopTask& t) { return t.id == id; });
    };
    while (named(format("{}, {}", name, turn))) ++turn;
    task.id = format("{}, {}", name, turn);
    copy[i] = job.tasks.size();
    job.tasks.push_back(std::move(task));
    on.desk.file.finished[on.j].push_back(0);
  }
  std::vector<After> afters;
  for (After after : job.afters) {
    const bool from = again[after.from] != 0;
    const bool to = again[after.to] != 0;
    if (from && !to && !job.tasks[after.to].fixed) {
      after.from = copy[after.from];
    } else if (to) {
      After fresh = after;
      if (from) fresh.from = copy[after.from];
      if (!from) fresh.most = kNever;
      fresh.to = copy[after.to];
      afters.push_back(fresh);
    }
    afters.push_back(after);
  }
  afters.push_back({on.i, copy[on.i], 0, kNever});
  job.afters = std::move(afters);
  // What was under way on the spoiled work ends now.
  for (const auto& [i, fresh] : copy) {
    on.desk.file.finished[on.j][i] = 1;
    Slot& slot = *job.tasks[i].fixed;
    slot.span.until = std::max(slot.span.from + 1, std::min(slot.span.until, on.at));
    if (!on.plan().slots.empty()) on.plan().slots[i] = slot;
  }
  // The new tasks have no place yet; the others stay where they can.
  if (!on.plan().slots.empty()) on.plan().slots.resize(job.tasks.size());
  return {};
}

Result<PlanDesk> absent(Workbench& workbench, const WorkReport& report) {
  auto done = workbench.store().change([&report](store::Book& book) -> Result<void> {
    auto workplace = book.workplace();
    if (!workplace) return fail(ErrorCode::not_found, "there is no workplace yet", "workplace", "");
    auto text = exchange::with_absence(workplace->text, report.person, report.at, report.until);
    if (!text) return Failure(text.error());
    workplace->text = *std::move(text);
    ++workplace->revision;
    return book.put_workplace(*workplace);
  });
  if (!done) return Failure(done.error());
  return plan_desk(workbench);
}

Result<std::string> take_in(PlanDesk& desk, const WorkReport& report) {
  const auto j = job_named(desk, report.job);
  if (!j) return Failure(j.error());
  const auto i = task_named(desk.file.jobs[*j], report.task);
  if (!i) return Failure(i.error());
  Reported on{desk, *j, *i, desk.now};
  if (!report.at.empty()) {
    const auto at = exchange::step_of(desk.file.shop, report.at);
    if (!at) return Failure(at.error());
    on.at = std::min(*at, desk.now);
  }
  const std::string name = format("{}, {}", desk.file.titles[*j], report.task);
  Result<void> done;
  std::string what;
  switch (report.what) {
    case What::started:
      done = start(on, report);
      what = name + " started";
      break;
    case What::finished:
      done = finish(on);
      what = name + " finished";
      break;
    case What::delayed:
      done = delay(on, report.minutes);
      what = format("{} takes {} min longer", name, report.minutes);
      break;
    case What::redone:
      done = redo(on);
      what = name + " must be done again";
      break;
    case What::absent: break;
  }
  if (!done) return Failure(done.error());
  return what;
}

}  // namespace

Result<PlanDesk> report_work(Workbench& workbench, const WorkReport& report, const std::string& who,
                             const Context& context) {
  auto desk = plan_desk(workbench);
  if (!desk) return desk;
  std::string what;
  if (report.what == What::absent) {
    const auto person = person_named(*desk, report.person);
    if (!person) return Failure(person.error());
    WorkReport whole = report;
    if (whole.at.empty()) whole.at = exchange::wall_time(desk->file.shop, desk->now);
    const auto from = exchange::step_of(desk->file.shop, whole.at);
    if (!from) return Failure(from.error());
    const auto until = exchange::step_of(desk->file.shop, whole.until);
    if (!until) return Failure(until.error());
    if (*until <= *from) {
      return fail(ErrorCode::invalid_input, "the absence ends before it begins", "until", "");
    }
    what = format("{} absent until {}", report.person, planning::when(desk->file.shop, *until));
    desk = absent(workbench, whole);
    if (!desk) return desk;
  } else {
    auto told = take_in(*desk, report);
    if (!told) return Failure(told.error());
    what = *std::move(told);
  }
  if (auto kept = plan_anew(workbench, *desk, what, who, context); !kept) {
    return Failure(kept.error());
  }
  return desk;
}

Result<std::vector<std::string>> spoil_work(PlanDesk& desk, std::size_t j, const std::string& part,
                                            double share) {
  const Job& job = desk.file.jobs[j];
  std::optional<std::size_t> laid;
  for (const std::size_t i : work_order(job)) {
    if (!is_of(desk, job.tasks[i].id, part) || job.tasks[i].hands.empty()) continue;
    if (laid && plain_name(job.tasks[i].id) != plain_name(job.tasks[*laid].id)) break;
    if (job.tasks[i].fixed) laid = i;
  }
  if (!laid) return std::vector<std::string>();
  const Reported on{desk, j, *laid, desk.now};
  if (desk.file.finished[j][*laid] == 0) {
    const auto minutes = scaled(on.task().work, share) * desk.file.shop.step.count();
    if (auto done = delay(on, static_cast<int>(minutes)); !done) return Failure(done.error());
    return std::vector{on.task().id};
  }
  const std::size_t known = job.tasks.size();
  if (auto done = redo(on, part, share); !done) return Failure(done.error());
  std::vector<std::string> again;
  for (std::size_t i = known; i < job.tasks.size(); ++i) again.push_back(job.tasks[i].id);
  return again;
}

}  // namespace film::workbench
