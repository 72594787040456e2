#include "planning/detail/board.h"

#include <algorithm>

#include "planning/verify_shop_plan.h"

namespace film::planning::detail {

std::optional<Time> Taken::blocked(const Span& span) const {
  const auto next = std::partition_point(spans_.begin(), spans_.end(),
                                         [&](const Span& s) { return s.until <= span.from; });
  if (next == spans_.end() || next->from >= span.until) return std::nullopt;
  return next->until;
}

Time Taken::next_end(Time t) const {
  const auto next = std::partition_point(spans_.begin(), spans_.end(),
                                         [t](const Span& s) { return s.until <= t; });
  return next == spans_.end() ? kNever : next->until;
}

void Taken::add(const Span& span) {
  const auto place = std::partition_point(spans_.begin(), spans_.end(),
                                          [&](const Span& s) { return s.from < span.from; });
  spans_.insert(place, span);
}

void Taken::cover(Span span) {
  std::erase_if(spans_, [&span](const Span& other) {
    if (!other.meets(span)) return false;
    span = {std::min(span.from, other.from), std::max(span.until, other.until)};
    return true;
  });
  add(span);
}

void Taken::remove(const Span& span) {
  const auto place = std::find(spans_.begin(), spans_.end(), span);
  if (place != spans_.end()) spans_.erase(place);
}

struct Board::Attempt {
  std::vector<Time> release;        // of each task
  std::vector<Time> stage_release;  // of each stage
  std::vector<Time> delay;          // of each task, after all it waits for
  std::vector<Time> handicap;       // of each person, when ends are compared
  std::vector<char> laid;
  JobPlan plan;
  const JobPlan* stay = nullptr;  // where tasks should stand if they can
};

Board::Board(const Shop& shop, const std::vector<Job>& jobs, Time now)
    : shop_(shop),
      jobs_(jobs),
      now_(now),
      plan_(jobs.size()),
      people_(shop.people.size()),
      bays_(shop.bays.size()),
      begun_(shop.bays.size()),
      pairs_(shop.people.size() * shop.people.size()) {
  for (const Job& job : jobs) {
    order_.push_back(work_order(job));
    // What has started holds its people whether or not the rest of the job is planned.
    for (const ShopTask& task : job.tasks) {
      if (!task.fixed) continue;
      for (const std::size_t person : task.fixed->people) people_[person].cover(task.fixed->span);
      if (task.plotter) plotter_.cover(task.fixed->span);
    }
  }
  for (const Person& person : shop.people) {
    breadth_.push_back(static_cast<std::size_t>(std::count_if(
        person.levels.begin(), person.levels.end(), [](int level) { return level > 0; })));
  }
}

const WorkLine& Board::line_of(const std::vector<std::size_t>& people) {
  if (people.size() == 1) return shop_.people[people[0]].hours;
  auto& pair =
      pairs_[std::min(people[0], people[1]) * shop_.people.size() + std::max(people[0], people[1])];
  if (!pair) pair = common(shop_.people[people[0]].hours, shop_.people[people[1]].hours);
  return *pair;
}

std::optional<Time> Board::crowded(const Job& job, const Attempt& attempt, const Span& span,
                                   std::size_t more) const {
  const auto at = [&](Time moment) {
    std::size_t people = more;
    for (std::size_t i = 0; i < job.tasks.size(); ++i) {
      const Slot& slot = attempt.plan.slots[i];
      if (attempt.laid[i] && job.tasks[i].stage && slot.span.from <= moment &&
          moment < slot.span.until) {
        people += slot.people.size();
      }
    }
    return people > static_cast<std::size_t>(shop_.crowd);
  };
  bool full = at(span.from);
  Time free = kNever;
  for (std::size_t i = 0; i < job.tasks.size(); ++i) {
    const Slot& slot = attempt.plan.slots[i];
    if (!attempt.laid[i] || slot.people.empty() || !slot.span.meets(span)) continue;
    full = full || (slot.span.from > span.from && at(slot.span.from));
    free = std::min(free, slot.span.until);
  }
  return full ? std::optional(free) : std::nullopt;
}

std::optional<Slot> Board::fit_crew(const ShopTask& task, const std::vector<std::size_t>& people,
                                    Time ready, const Job& job, const Attempt& attempt) {
  const WorkLine& line = line_of(people);
  Time from = ready;
  while (true) {
    const auto span = line.fit(from, task.work, task.pause);
    if (!span) return std::nullopt;
    std::optional<Time> blocked;
    for (const std::size_t person : people) {
      if (!blocked) blocked = people_[person].blocked(*span);
    }
    if (!blocked && task.plotter) blocked = plotter_.blocked(*span);
    if (!blocked && task.stage) blocked = crowded(job, attempt, *span, people.size());
    if (!blocked) return Slot{*span, people};
    from = *blocked;
  }
}

std::optional<Slot> Board::find(const Job& job, const Attempt& attempt, std::size_t index,
                                Time ready) {
  const ShopTask& task = job.tasks[index];
  if (task.hands.empty()) {
    Span span{ready, ready + task.work};
    while (const auto blocked = task.plotter ? plotter_.blocked(span) : std::nullopt) {
      span = {*blocked, *blocked + task.work};
    }
    return Slot{span, {}};
  }
  std::optional<Slot> best;
  std::size_t best_breadth = 0;
  Time best_end = 0;
  const auto consider = [&](const std::vector<std::size_t>& people) {
    auto slot = fit_crew(task, people, ready, job, attempt);
    if (!slot) return;
    std::size_t breadth = 0;
    Time end = slot->span.until;
    for (const std::size_t person : people) {
      breadth += breadth_[person];
      end += attempt.handicap[person];
    }
    if (!best || end < best_end || (end == best_end && breadth < best_breadth)) {
      best = std::move(slot);
      best_end = end;
      best_breadth = breadth;
    }
  };
  for (std::size_t a = 0; a < shop_.people.size(); ++a) {
    if (!can(shop_.people[a], task.hands[0])) continue;
    if (task.hands.size() == 1) {
      consider({a});
      continue;
    }
    for (std::size_t b = 0; b < shop_.people.size(); ++b) {
      if (a == b || !can(shop_.people[b], task.hands[1])) continue;
      if (b < a && task.hands[0] == task.hands[1]) continue;  // the same pair again
      consider({a, b});
    }
  }
  return best;
}

bool Board::can_stand(const Job& job, const Attempt& attempt, std::size_t index, Time ready,
                      const Slot& slot) {
  const ShopTask& task = job.tasks[index];
  if (slot.span.from < ready || slot.people.size() != task.hands.size()) return false;
  Span span{slot.span.from, slot.span.from + task.work};
  for (std::size_t h = 0; h < slot.people.size(); ++h) {
    if (!can(shop_.people[slot.people[h]], task.hands[h])) return false;
    if (people_[slot.people[h]].blocked(slot.span)) return false;
  }
  if (!slot.people.empty()) {
    const auto fitted = line_of(slot.people).fit(slot.span.from, task.work, task.pause);
    if (!fitted) return false;
    span = *fitted;
  }
  if (!(span == slot.span) || (task.plotter && plotter_.blocked(span))) return false;
  return slot.people.empty() || !task.stage || !crowded(job, attempt, span, slot.people.size());
}

Board::Outcome Board::lay(std::size_t j, Attempt& attempt) {
  const Job& job = jobs_[j];
  std::fill(attempt.laid.begin(), attempt.laid.end(), 0);
  for (std::size_t i = 0; i < job.tasks.size(); ++i) {
    if (!job.tasks[i].fixed) continue;
    attempt.plan.slots[i] = *job.tasks[i].fixed;
    attempt.laid[i] = 1;
  }
  for (const std::size_t i : order_[j]) {
    const ShopTask& task = job.tasks[i];
    if (task.fixed) continue;
    Time ready = attempt.release[i];
    if (task.stage) ready = std::max(ready, attempt.stage_release[*task.stage]);
    for (const After& after : job.afters) {
      if (after.to != i) continue;
      ready = std::max(ready, attempt.plan.slots[after.from].span.until + after.least);
    }
    ready += attempt.delay[i];
    std::optional<Slot> slot;
    if (attempt.stay != nullptr && i < attempt.stay->slots.size() &&
        can_stand(job, attempt, i, ready, attempt.stay->slots[i])) {
      slot = attempt.stay->slots[i];
    } else {
      slot = find(job, attempt, i, ready);
    }
    if (!slot) return Outcome::none;
    for (const After& after : job.afters) {
      if (after.to != i || after.most >= kNever) continue;
      const Slot& before = attempt.plan.slots[after.from];
      const Time late = slot->span.from - before.span.until - after.most;
      if (late <= 0) continue;
      // Too long after: what it follows must wait as well, and all of the job is laid again.
      if (job.tasks[after.from].fixed) return Outcome::none;
      attempt.release[after.from] = std::max(attempt.release[after.from], before.span.from) + late;
      return Outcome::again;
    }
    for (const std::size_t person : slot->people) people_[person].add(slot->span);
    if (task.plotter) plotter_.add(slot->span);
    attempt.plan.slots[i] = std::move(*slot);
    attempt.laid[i] = 1;
    if (task.stage && *task.stage + 1 < job.stages.size()) {
      Time& next = attempt.stage_release[*task.stage + 1];
      next = std::max(next, attempt.plan.slots[i].span.until);
    }
  }
  return Outcome::laid;
}

Board::Outcome Board::house(std::size_t j, Attempt& attempt) {
  const Job& job = jobs_[j];
  Time left = 0;  // when the stage before ends
  for (std::size_t k = 0; k < job.stages.size(); ++k) {
    const Span hold = hold_of(job, attempt.plan.slots, k);
    const bool begun = has_begun(job, k);
    std::size_t best = bays_.size();
    Time next = kNever;
    const std::size_t wanted = attempt.stay != nullptr && k < attempt.stay->bays.size()
                                   ? attempt.stay->bays[k]
                                   : bays_.size();
    for (std::size_t bay = 0; bay < bays_.size(); ++bay) {
      if (!suits(shop_, bay, job.stages[k])) continue;
      const bool stays = k > 0 && attempt.plan.bays[k - 1] == bay;
      const Time open = k == 0 || stays ? 0 : left + shop_.move;
      if (hold.from >= open && !occupied(bay, hold, begun)) {
        const bool plainer = best < bays_.size() &&
                             shop_.bays[bay].features.size() < shop_.bays[best].features.size();
        if (best == bays_.size() || stays ||
            (plainer && (k == 0 || attempt.plan.bays[k - 1] != best)))
          best = bay;
        if (wanted == bay) {
          best = bay;
          break;
        }
      } else {
        next = std::min(next, hold.from < open ? open : next_leaving(bay, hold.from, begun));
      }
    }
    if (best == bays_.size()) {
      if (next >= kNever || next <= hold.from) return Outcome::none;
      attempt.stage_release[k] = next;
      return Outcome::again;
    }
    attempt.plan.bays[k] = best;
    left = hold.until;
  }
  return Outcome::laid;
}

bool Board::place(std::size_t j, Time release, Rng* luck, const JobPlan* stay) {
  static constexpr int kTries = 200;
  const Job& job = jobs_[j];
  Attempt attempt;
  attempt.release.assign(job.tasks.size(), std::max({release, job.arrives, now_}));
  attempt.stage_release.assign(job.stages.size(), 0);
  attempt.delay.assign(job.tasks.size(), 0);
  attempt.handicap.assign(people_.size(), 0);
  attempt.laid.assign(job.tasks.size(), 0);
  attempt.plan.slots.resize(job.tasks.size());
  attempt.plan.bays.resize(job.stages.size());
  attempt.stay = stay;
  if (luck != nullptr) {
    for (std::size_t i = 0; i < job.tasks.size(); ++i) {
      if (luck->uniform() > 0.2) continue;
      // What starts the moment another task ends would only push that task on.
      const bool at_once = std::any_of(
          job.afters.begin(), job.afters.end(),
          [i](const After& after) { return after.to == i && after.most == after.least; });
      if (at_once) continue;
      attempt.delay[i] =
          static_cast<Time>(luck->below(static_cast<std::size_t>(job.tasks[i].work) + 1));
    }
    for (Time& handicap : attempt.handicap) {
      if (luck->uniform() < 0.3) handicap = static_cast<Time>(luck->below(25));
    }
  }
  for (int tries = 0; tries < kTries; ++tries) {
    Outcome outcome = lay(j, attempt);
    for (std::size_t i = 0; i < job.tasks.size(); ++i) {
      if (!attempt.laid[i] || job.tasks[i].fixed) continue;
      const Slot& slot = attempt.plan.slots[i];
      for (const std::size_t person : slot.people) people_[person].remove(slot.span);
      if (job.tasks[i].plotter) plotter_.remove(slot.span);
    }
    if (outcome == Outcome::laid) outcome = house(j, attempt);
    if (outcome == Outcome::none) return false;
    if (outcome == Outcome::laid) {
      put(j, attempt.plan);
      return true;
    }
  }
  return false;
}

void Board::occupy(std::size_t j, const JobPlan& where, bool taken) {
  const Job& job = jobs_[j];
  const auto mark = [taken](Taken& line, const Span& span) {
    taken ? line.add(span) : line.remove(span);
  };
  for (std::size_t i = 0; i < job.tasks.size(); ++i) {
    if (job.tasks[i].fixed) continue;
    for (const std::size_t person : where.slots[i].people) {
      mark(people_[person], where.slots[i].span);
    }
    if (job.tasks[i].plotter) mark(plotter_, where.slots[i].span);
  }
  for (std::size_t k = 0; k < job.stages.size(); ++k) {
    const Span hold = hold_of(job, where.slots, k);
    if (!has_begun(job, k)) {
      mark(bays_[where.bays[k]], hold);
      continue;
    }
    auto& begun = begun_[where.bays[k]];
    if (taken) {
      begun.push_back(hold);
    } else if (const auto at = std::find(begun.begin(), begun.end(), hold); at != begun.end()) {
      begun.erase(at);
    }
  }
}

std::optional<Time> Board::occupied(std::size_t bay, const Span& hold, bool begun) const {
  auto until = bays_[bay].blocked(hold);
  if (begun) return until;
  for (const Span& other : begun_[bay]) {
    if (other.meets(hold)) until = std::max(until.value_or(0), other.until);
  }
  return until;
}

Time Board::next_leaving(std::size_t bay, Time t, bool begun) const {
  Time next = bays_[bay].next_end(t);
  if (begun) return next;
  for (const Span& other : begun_[bay]) {
    if (other.until > t) next = std::min(next, other.until);
  }
  return next;
}

void Board::put(std::size_t job, const JobPlan& where) {
  plan_[job] = where;
  if (!where.slots.empty()) occupy(job, where, true);
}

void Board::remove(std::size_t job) {
  if (!plan_[job].slots.empty()) occupy(job, plan_[job], false);
  plan_[job] = {};
}

bool Board::keep(std::size_t j, const JobPlan& where) {
  const Job& job = jobs_[j];
  if (where.slots.empty() || !verify_job(shop_, job, j, where, now_).empty()) return false;
  for (std::size_t i = 0; i < job.tasks.size(); ++i) {
    const Slot& slot = where.slots[i];
    if (job.tasks[i].fixed) continue;
    for (const std::size_t person : slot.people) {
      if (people_[person].blocked(slot.span)) return false;
    }
    if (job.tasks[i].plotter && plotter_.blocked(slot.span)) return false;
  }
  for (std::size_t k = 0; k < job.stages.size(); ++k) {
    if (occupied(where.bays[k], hold_of(job, where.slots, k), has_begun(job, k))) return false;
  }
  put(j, where);
  return true;
}

}  // namespace film::planning::detail
