#include "workbench/plan_desk.h"

#include <algorithm>
#include <chrono>
#include <utility>

#include "base/text.h"
#include "host/zones.h"
#include "planning/promise.h"
#include "planning/verify_shop_plan.h"
#include "store/store.h"

namespace film::workbench {
namespace {

using namespace planning;

constexpr int kDays = 90;
constexpr const char* kNoJobs = R"({"jobs": []})";

/// The soonest start by what is done before it; nothing while something is not.
std::optional<Time> freed(const exchange::ShopFile& file, std::size_t j, std::size_t i) {
  const Job& job = file.jobs[j];
  std::optional<Time> from;
  for (const After& after : job.afters) {
    if (after.to != i) continue;
    if (!job.tasks[after.from].fixed || file.finished[j][after.from] == 0) return std::nullopt;
    from = std::max(from.value_or(0), job.tasks[after.from].fixed->span.until + after.least);
  }
  return from;
}

void settle_job(PlanDesk& desk, std::size_t j) {
  Job& job = desk.file.jobs[j];
  for (std::size_t i = 0; i < job.tasks.size(); ++i) {
    if (!job.tasks[i].fixed || !job.tasks[i].hands.empty()) continue;
    desk.file.finished[j][i] = job.tasks[i].fixed->span.until <= desk.now ? 1 : 0;
  }
  for (const std::size_t i : work_order(job)) {
    const ShopTask& task = job.tasks[i];
    if (task.fixed || !task.hands.empty()) continue;
    const auto from = freed(desk.file, j, i);
    if (!from || *from >= desk.now) continue;
    fix_task(desk.file, j, i, {{*from, *from + task.work}, {}});
    desk.file.finished[j][i] = *from + task.work <= desk.now ? 1 : 0;
  }
  for (After& after : job.afters) {
    const auto& before = job.tasks[after.from].fixed;
    if (!before || job.tasks[after.to].fixed || after.most >= kNever) continue;
    if (before->span.until + after.most >= desk.now) continue;
    desk.warnings.push_back(format("{}: \"{}\" should have begun by {}", desk.file.titles[j],
                                   job.tasks[after.to].id,
                                   when(desk.file.shop, before->span.until + after.most)));
    after.most = kNever;
  }
}

/// What has begun and is not reported done goes on.
void extend_begun(PlanDesk& desk, std::size_t j) {
  for (std::size_t i = 0; i < desk.file.jobs[j].tasks.size(); ++i) {
    const ShopTask& task = desk.file.jobs[j].tasks[i];
    if (!task.fixed || task.hands.empty() || desk.file.finished[j][i] != 0) continue;
    if (task.fixed->span.until > desk.now) continue;
    Slot slot = *task.fixed;
    slot.span.until = desk.now + 1;
    fix_task(desk.file, j, i, std::move(slot));
  }
}

Instant clock_now() {
  return std::chrono::floor<std::chrono::minutes>(std::chrono::system_clock::now());
}

Result<void> check_plan(const PlanDesk& desk) {
  const auto breaches =
      verify_shop_plan(desk.file.shop, desk.file.jobs, desk.file.running, desk.now);
  if (breaches.empty()) return {};
  return fail(ErrorCode::conflict, "the plan breaks a rule: " + breaches.front().text, "plan",
              "Please report this; the plan before stays.");
}

}  // namespace

void fix_task(exchange::ShopFile& file, std::size_t j, std::size_t i, Slot slot) {
  JobPlan& plan = file.running[j];
  if (!plan.slots.empty()) plan.slots[i] = slot;
  Job& job = file.jobs[j];
  job.tasks[i].fixed = std::move(slot);
  const auto stage = job.tasks[i].stage;
  if (stage && !plan.bays.empty()) job.stages[*stage].bay = plan.bays[*stage];
}

Result<PlanDesk> plan_desk(Workbench& workbench) {
  struct Kept {
    std::optional<shop::Workplace> workplace;
    std::optional<shop::PlanVersion> plan;
  };
  auto kept = workbench.store().look([](store::Book& book) {
    return Kept{book.workplace(), book.plan()};
  });
  if (!kept) return Failure(kept.error());
  if (!kept->workplace) {
    return fail(ErrorCode::not_found, "nobody has entered people and bays yet", "workplace",
                "Enter who works when, and the bays.");
  }
  const std::string jobs = kept->plan ? kept->plan->text : kNoJobs;
  const Instant instant = clock_now();
  auto file =
      exchange::read_shop_parts(kept->workplace->text, jobs, instant, kDays, host::find_zone);
  if (!file) return Failure(file.error());
  PlanDesk desk;
  desk.file = *std::move(file);
  const Shop& shop = desk.file.shop;
  const auto since = desk.file.clock.value_or(instant) - shop.origin;
  desk.now = static_cast<Time>((since + shop.step - std::chrono::minutes(1)) / shop.step);
  desk.workplace_revision = kept->workplace->revision;
  if (kept->plan) {
    desk.version = kept->plan->number;
    desk.made = kept->plan->made;
  }
  for (std::size_t j = 0; j < desk.file.jobs.size(); ++j) settle_job(desk, j);
  for (std::size_t j = 0; j < desk.file.jobs.size(); ++j) extend_begun(desk, j);
  return desk;
}

std::vector<Surety> sureties(const PlanDesk& desk) {
  static constexpr int kRuns = 300;
  const auto& file = desk.file;
  auto simulation = simulate(file.shop, file.jobs, file.running, 1, kRuns);
  std::vector<Surety> all;
  for (std::size_t j = 0; j < file.jobs.size(); ++j) {
    Surety surety;
    auto& ends = simulation.ends[j];
    if (file.jobs[j].promise < kNever) {
      const auto kept = std::count_if(ends.begin(), ends.end(),
                                      [&](Time end) { return end <= file.jobs[j].promise; });
      surety.chance = static_cast<double>(kept) / kRuns;
    }
    surety.sure = quantile(std::move(ends), 0.9);
    all.push_back(surety);
  }
  return all;
}

std::vector<Job> plannable(const PlanDesk& desk) {
  std::vector<Job> jobs = desk.file.jobs;
  for (Job& job : jobs) job.promise = std::max(job.promise, desk.now + 1);
  return jobs;
}

Result<void> keep_plan(Workbench& workbench, PlanDesk& desk, const std::string& what,
                       const std::string& who) {
  if (auto sound = check_plan(desk); !sound) return sound;
  // What left the shop a day ago is history.
  exchange::ShopFile kept = desk.file;
  const Time day = static_cast<Time>(std::chrono::hours(24) / kept.shop.step);
  for (std::size_t j = kept.jobs.size(); j-- > 0;) {
    const bool done = std::all_of(kept.finished[j].begin(), kept.finished[j].end(),
                                  [](char finished) { return finished != 0; });
    if (!done || kept.running[j].end() + day > desk.now) continue;
    const auto at = static_cast<std::ptrdiff_t>(j);
    kept.jobs.erase(kept.jobs.begin() + at);
    kept.titles.erase(kept.titles.begin() + at);
    kept.finished.erase(kept.finished.begin() + at);
    kept.running.erase(kept.running.begin() + at);
  }
  const shop::PlanVersion version{desk.version + 1, now(), who, what,
                                  exchange::write_plan_jobs(kept)};
  auto done =
      workbench.store().change([&version](store::Book& book) { return book.append_plan(version); });
  if (!done) return done;
  desk.file = std::move(kept);
  desk.version = version.number;
  desk.made = version.made;
  return {};
}

Result<void> plan_anew(Workbench& workbench, PlanDesk& desk, const std::string& what,
                       const std::string& who, const Context& context) {
  ShopOptions options;
  options.iterations = 400;
  options.now = desk.now;
  options.running = &desk.file.running;
  auto answer = plan_shop(desk.file.shop, plannable(desk), options, context);
  if (!answer) return Failure(answer.error());
  // As for an answer at the counter: what is in trouble before all others, which stay where they
  // can; then with nothing kept in place.
  const auto score = [&](const ShopPlan& plan) {
    return score_of(plannable(desk), plan, &desk.file.running);
  };
  ShopOptions anew = options;
  for (const bool others_stay : {true, false}) {
    if (answer->score.broken == 0 && answer->score.unplanned == 0) break;
    anew.first.clear();
    for (std::size_t j = 0; j < answer->plan.size(); ++j) {
      if (answer->plan[j].end() > desk.file.jobs[j].promise) anew.first.push_back(j);
    }
    if (!others_stay) anew.running = nullptr;
    auto other = plan_shop(desk.file.shop, plannable(desk), anew, context);
    if (other && score(other->plan) < score(answer->plan)) {
      answer = std::move(other);
      answer->score = score(answer->plan);
    }
  }
  desk.file.running = std::move(answer->plan);
  for (std::string& note : answer->notes) desk.warnings.push_back(std::move(note));
  return keep_plan(workbench, desk, what, who);
}

Result<std::size_t> job_named(const PlanDesk& desk, const std::string& id) {
  const auto& jobs = desk.file.jobs;
  const auto found =
      std::find_if(jobs.begin(), jobs.end(), [&id](const Job& job) { return job.id == id; });
  if (found != jobs.end()) return static_cast<std::size_t>(found - jobs.begin());
  return fail(ErrorCode::not_found, format("\"{}\" is not in the plan", id), "job",
              "Book it into the plan first.");
}

Result<std::size_t> task_named(const Job& job, const std::string& id) {
  const auto found = std::find_if(job.tasks.begin(), job.tasks.end(),
                                  [&id](const ShopTask& task) { return task.id == id; });
  if (found != job.tasks.end()) return static_cast<std::size_t>(found - job.tasks.begin());
  return fail(ErrorCode::not_found, format("{} has no task \"{}\"", job.id, id), "task", "");
}

Result<std::size_t> person_named(const PlanDesk& desk, const std::string& id) {
  const auto& people = desk.file.shop.people;
  const auto found = std::find_if(people.begin(), people.end(),
                                  [&id](const Person& person) { return person.id == id; });
  if (found != people.end()) return static_cast<std::size_t>(found - people.begin());
  return fail(ErrorCode::not_found, format("nobody is called \"{}\"", id), "person",
              "Choose one of the shop's people.");
}

Result<void> set_workplace(Workbench& workbench, shop::Workplace workplace) {
  return workbench.store().change([&workplace](store::Book& book) -> Result<void> {
    const auto plan = book.plan();
    const std::string jobs = plan ? plan->text : kNoJobs;
    const auto read =
        exchange::read_shop_parts(workplace.text, jobs, clock_now(), kDays, host::find_zone);
    if (!read) return Failure(read.error());
    return book.put_workplace(workplace);
  });
}

Result<void> change_workplace(Workbench& workbench, shop::Workplace workplace,
                              const std::string& who, const Context& context) {
  if (auto set = set_workplace(workbench, std::move(workplace)); !set) return set;
  auto desk = plan_desk(workbench);
  if (!desk) return Failure(desk.error());
  if (desk->file.jobs.empty()) return {};
  return plan_anew(workbench, *desk, "people, bays or the way of working changed", who, context);
}

Result<shop::Workplace> workplace(Workbench& workbench) {
  auto found = workbench.store().look([](store::Book& book) { return book.workplace(); });
  if (!found) return Failure(found.error());
  if (*found) {
    auto text = exchange::with_templates((**found).text);
    if (!text) return Failure(text.error());
    return shop::Workplace{*std::move(text), (**found).revision};
  }
  return fail(ErrorCode::not_found, "nobody has entered people and bays yet", "workplace",
              "Enter who works when, and the bays.");
}

Result<void> set_demo_clock(Workbench& workbench, const std::string& time) {
  return workbench.store().change([&time](store::Book& book) -> Result<void> {
    const auto settings = book.settings();
    auto workplace = book.workplace();
    if (!settings || !settings->demo || !workplace) {
      return fail(ErrorCode::conflict, "only a demo shop's clock can be set", "clock", "");
    }
    auto text = exchange::with_clock(workplace->text, time);
    if (!text) return Failure(text.error());
    const auto plan = book.plan();
    const auto read = exchange::read_shop_parts(*text, plan ? plan->text : kNoJobs, clock_now(),
                                                kDays, host::find_zone);
    if (!read) return Failure(read.error());
    workplace->text = *std::move(text);
    ++workplace->revision;
    return book.put_workplace(*workplace);
  });
}

}  // namespace film::workbench
