#include "planning/verify_shop_plan.h"

#include <algorithm>
#include <iterator>

#include "base/text.h"

namespace film::planning {
namespace {

using Kind = Breach::Kind;

/// Asked step by step on purpose: the planner counts with prefix sums.
bool works_at(const WorkLine& line, Time step) {
  const auto next = std::upper_bound(line.spans().begin(), line.spans().end(), step,
                                     [](Time t, const Span& span) { return t < span.from; });
  return next != line.spans().begin() && std::prev(next)->until > step;
}

class JobCheck {
 public:
  JobCheck(const Shop& shop, const Job& job, std::size_t index, const JobPlan& plan, Time now)
      : shop_(shop), job_(job), index_(index), plan_(plan), now_(now) {}

  std::vector<Breach> run() {
    if (plan_.slots.size() != job_.tasks.size() || plan_.bays.size() != job_.stages.size()) {
      add(Kind::shape, {}, format("{}: the plan does not match the job", job_.id));
      return std::move(found_);
    }
    for (std::size_t i = 0; i < job_.tasks.size(); ++i) check_task(i);
    for (const After& after : job_.afters) check_after(after);
    for (std::size_t k = 0; k < job_.stages.size(); ++k) check_stage(k);
    check_crowd();
    check_people();
    return std::move(found_);
  }

 private:
  void add(Kind kind, const std::vector<std::size_t>& tasks, std::string text) {
    Breach breach{kind, {}, std::move(text)};
    for (const std::size_t task : tasks) breach.tasks.emplace_back(index_, task);
    found_.push_back(std::move(breach));
  }

  void check_task(std::size_t i) {
    const ShopTask& task = job_.tasks[i];
    const Slot& slot = plan_.slots[i];
    const std::string name = format("{}, {}", job_.id, task.id);
    if (task.fixed) {
      if (!(slot == *task.fixed)) add(Kind::fact, {i}, name + " has started elsewhere");
      return;
    }
    if (slot.span.from < std::max(job_.arrives, now_)) {
      add(Kind::arrival, {i}, format("{} starts {}, too soon", name, when(shop_, slot.span.from)));
    }
    if (slot.people.size() != task.hands.size()) {
      add(Kind::shape, {i}, name + " has not the people it needs");
      return;
    }
    for (std::size_t h = 0; h < task.hands.size(); ++h) {
      if (slot.people[h] >= shop_.people.size()) {
        add(Kind::shape, {i}, name + " has somebody unknown");
        return;
      }
      if (!can(shop_.people[slot.people[h]], task.hands[h])) {
        add(Kind::skill, {i}, format("{} cannot do {}", shop_.people[slot.people[h]].id, name));
      }
    }
    if (slot.people.size() == 2 && slot.people[0] == slot.people[1]) {
      add(Kind::skill, {i}, name + " needs two different people");
    }
    check_work(i, name);
  }

  void check_work(std::size_t i, const std::string& name) {
    const ShopTask& task = job_.tasks[i];
    const Slot& slot = plan_.slots[i];
    Time worked = 0;
    bool first = true;
    bool last = true;
    for (Time t = slot.span.from; t < slot.span.until; ++t) {
      const bool all = std::all_of(slot.people.begin(), slot.people.end(), [&](std::size_t p) {
        return works_at(shop_.people[p].hours, t);
      });
      worked += all ? 1 : 0;
      if (t == slot.span.from) first = all;
      if (t + 1 == slot.span.until) last = all;
    }
    const bool whole = task.pause == Pause::at_breaks || worked == slot.span.until - slot.span.from;
    if (worked != task.work || !first || !last || !whole) {
      add(Kind::shift, {i},
          format("{} from {} to {} has {} of working time, needs {}", name,
                 when(shop_, slot.span.from), when(shop_, slot.span.until), hours(shop_, worked),
                 hours(shop_, task.work)));
    }
  }

  void check_after(const After& after) {
    if (job_.tasks[after.to].fixed) return;
    const Time gap = plan_.slots[after.to].span.from - plan_.slots[after.from].span.until;
    if (gap >= after.least && gap <= after.most) return;
    add(Kind::after, {after.from, after.to},
        format("{}: {} starts {} after {}", job_.id, job_.tasks[after.to].id, hours(shop_, gap),
               job_.tasks[after.from].id));
  }

  void check_stage(std::size_t k) {
    if (plan_.bays[k] >= shop_.bays.size() || !suits(shop_, plan_.bays[k], job_.stages[k])) {
      add(Kind::bay, {}, format("{}: stage {} is in a bay that does not suit it", job_.id, k + 1));
      return;
    }
    if (k == 0) return;
    const Time gap = hold_of(job_, plan_.slots, k).from - hold_of(job_, plan_.slots, k - 1).until;
    if (gap < (plan_.bays[k] == plan_.bays[k - 1] ? 0 : shop_.move)) {
      add(Kind::bay, {}, format("{}: no time to move before stage {}", job_.id, k + 1));
    }
  }

  void check_crowd() {
    for (std::size_t i = 0; i < job_.tasks.size(); ++i) {
      if (job_.tasks[i].fixed || !job_.tasks[i].stage) continue;
      // The crowd only grows when a task starts, so the starts inside this one are enough.
      for (std::size_t k = 0; k < job_.tasks.size(); ++k) {
        const Time moment = std::max(plan_.slots[k].span.from, plan_.slots[i].span.from);
        if (moment >= plan_.slots[i].span.until) continue;
        std::size_t people = 0;
        for (std::size_t m = 0; m < job_.tasks.size(); ++m) {
          const Span& span = plan_.slots[m].span;
          if (job_.tasks[m].stage && span.from <= moment && moment < span.until) {
            people += plan_.slots[m].people.size();
          }
        }
        if (people > static_cast<std::size_t>(shop_.crowd) && !plan_.slots[i].people.empty()) {
          add(Kind::crowd, {i},
              format("{}: {} people at once at {}", job_.id, people, when(shop_, moment)));
          return;
        }
      }
    }
  }

  void check_people() {
    for (std::size_t i = 0; i < job_.tasks.size(); ++i) {
      for (std::size_t k = i + 1; k < job_.tasks.size(); ++k) {
        if (!plan_.slots[i].span.meets(plan_.slots[k].span)) continue;
        if (job_.tasks[i].fixed && job_.tasks[k].fixed) continue;
        const auto& others = plan_.slots[k].people;
        for (const std::size_t person : plan_.slots[i].people) {
          if (std::find(others.begin(), others.end(), person) == others.end()) continue;
          add(Kind::person, {i, k},
              format("{}: {} and {} need {} at once", job_.id, job_.tasks[i].id, job_.tasks[k].id,
                     shop_.people[person].id));
        }
        if (job_.tasks[i].plotter && job_.tasks[k].plotter) {
          add(Kind::plotter, {i, k}, format("{}: two tasks on the plotter", job_.id));
        }
      }
    }
  }

  const Shop& shop_;
  const Job& job_;
  std::size_t index_;
  const JobPlan& plan_;
  Time now_;
  std::vector<Breach> found_;
};

struct Use {
  Span span;
  std::size_t job, task;
  bool fact;
};

void check_uses(std::vector<Use> uses, Kind kind, const std::string& name,
                const std::vector<Job>& jobs, std::vector<Breach>& found) {
  std::sort(uses.begin(), uses.end(),
            [](const Use& a, const Use& b) { return a.span.from < b.span.from; });
  for (std::size_t i = 0; i < uses.size(); ++i) {
    for (std::size_t k = i + 1; k < uses.size() && uses[k].span.from < uses[i].span.until; ++k) {
      const bool facts = uses[i].fact && uses[k].fact;
      const bool told = kind != Kind::bay && uses[i].job == uses[k].job;  // by verify_job
      if (facts || told || !uses[i].span.meets(uses[k].span)) continue;
      found.push_back({kind,
                       {{uses[i].job, uses[i].task}, {uses[k].job, uses[k].task}},
                       format("{} is needed by {} and {} at once", name, jobs[uses[i].job].id,
                              jobs[uses[k].job].id)});
    }
  }
}

}  // namespace

std::vector<Breach> verify_job(const Shop& shop, const Job& job, std::size_t index,
                               const JobPlan& plan, Time now) {
  return JobCheck(shop, job, index, plan, now).run();
}

std::vector<Breach> verify_shop_plan(const Shop& shop, const std::vector<Job>& jobs,
                                     const ShopPlan& plan, Time now) {
  std::vector<Breach> found;
  if (plan.size() != jobs.size()) return {{Kind::shape, {}, "the plan has other jobs"}};
  std::vector<std::vector<Use>> people(shop.people.size());
  std::vector<std::vector<Use>> bays(shop.bays.size());
  std::vector<Use> plotter;
  for (std::size_t j = 0; j < jobs.size(); ++j) {
    if (plan[j].slots.empty()) continue;
    auto own = verify_job(shop, jobs[j], j, plan[j], now);
    const bool misshapen = std::any_of(own.begin(), own.end(), [](const Breach& breach) {
      return breach.kind == Kind::shape || breach.kind == Kind::bay;
    });
    found.insert(found.end(), own.begin(), own.end());
    if (misshapen) continue;
    for (std::size_t i = 0; i < jobs[j].tasks.size(); ++i) {
      const Slot& slot = plan[j].slots[i];
      const Use use{slot.span, j, i, jobs[j].tasks[i].fixed.has_value()};
      for (const std::size_t person : slot.people) people[person].push_back(use);
      if (jobs[j].tasks[i].plotter) plotter.push_back(use);
    }
    for (std::size_t k = 0; k < jobs[j].stages.size(); ++k) {
      bays[plan[j].bays[k]].push_back(
          {hold_of(jobs[j], plan[j].slots, k), j, 0, has_begun(jobs[j], k)});
    }
  }
  for (std::size_t p = 0; p < people.size(); ++p) {
    check_uses(people[p], Kind::person, shop.people[p].id, jobs, found);
  }
  for (std::size_t b = 0; b < bays.size(); ++b) {
    check_uses(bays[b], Kind::bay, shop.bays[b].id, jobs, found);
  }
  check_uses(plotter, Kind::plotter, "the plotter", jobs, found);
  return found;
}

}  // namespace film::planning
