#include "planning/shop_model.h"

#include <algorithm>
#include <array>

#include "base/text.h"

namespace film::planning {
namespace {

Error fault(std::string what, std::string where, std::string remedy) {
  return {ErrorCode::invalid_input, std::move(what), std::move(where), std::move(remedy)};
}

/// What must wait for what: the afters, and every task of a stage for all of the stage before.
std::vector<std::vector<std::size_t>> followers(const Job& job) {
  std::vector<std::vector<std::size_t>> next(job.tasks.size());
  for (const After& after : job.afters) next[after.from].push_back(after.to);
  for (std::size_t i = 0; i < job.tasks.size(); ++i) {
    for (std::size_t k = 0; k < job.tasks.size(); ++k) {
      const auto a = job.tasks[i].stage;
      const auto b = job.tasks[k].stage;
      if (a && b && *a + 1 == *b) next[i].push_back(k);
    }
  }
  return next;
}

/// Tasks that wait for each other in a circle, in order; empty when there is none.
std::string circle_of(const Job& job) {
  const auto next = followers(job);
  // A task that no ordering reaches has one before it that none reaches: walk back until it
  // repeats.
  std::vector<int> open(job.tasks.size(), 0);
  for (const auto& list : next) {
    for (const std::size_t to : list) ++open[to];
  }
  std::vector<std::size_t> ready;
  for (std::size_t i = 0; i < open.size(); ++i) {
    if (open[i] == 0) ready.push_back(i);
  }
  while (!ready.empty()) {
    const std::size_t i = ready.back();
    ready.pop_back();
    open[i] = -1;
    for (const std::size_t to : next[i]) {
      if (--open[to] == 0) ready.push_back(to);
    }
  }
  const auto stuck = std::find_if(open.begin(), open.end(), [](int count) { return count > 0; });
  if (stuck == open.end()) return {};
  std::vector<std::size_t> walk{static_cast<std::size_t>(stuck - open.begin())};
  while (std::count(walk.begin(), walk.end(), walk.back()) < 2) {
    for (std::size_t i = 0; i < next.size(); ++i) {
      if (open[i] > 0 && std::count(next[i].begin(), next[i].end(), walk.back()) > 0) {
        walk.push_back(i);
        break;
      }
    }
  }
  std::string text = job.tasks[walk.back()].id;
  for (std::size_t k = walk.size() - 1; k-- > 0;) {
    text += ", " + job.tasks[walk[k]].id;
    if (walk[k] == walk.back()) break;
  }
  return text;
}

std::optional<Error> fault_of(const Shop& shop, const Job& job, const ShopTask& task) {
  const std::string where = format("{}, {}", job.id, task.id);
  if (task.work < 1) return fault("the task takes no time", where, "Give its duration");
  if (task.stage && *task.stage >= job.stages.size()) {
    return fault("the task is in a stage that is not there", where, "Add the stage");
  }
  if (task.hands.size() > 2) {
    return fault("the task needs more than two people", where, "Split the task");
  }
  for (const Hand& hand : task.hands) {
    if (hand.skill >= shop.skills.size()) {
      return fault("the task needs a skill that is not in the list", where, "Add the skill");
    }
  }
  if (task.fixed) {
    for (const std::size_t person : task.fixed->people) {
      if (person >= shop.people.size()) {
        return fault("the task was begun by somebody unknown", where, "Add the person");
      }
    }
    return std::nullopt;
  }
  const auto pairs_off = [&] {
    for (std::size_t a = 0; a < shop.people.size(); ++a) {
      if (!can(shop.people[a], task.hands[0])) continue;
      if (task.hands.size() == 1) return true;
      for (std::size_t b = 0; b < shop.people.size(); ++b) {
        if (a != b && can(shop.people[b], task.hands[1])) return true;
      }
    }
    return false;
  };
  if (!task.hands.empty() && !pairs_off()) {
    const Hand& hand = task.hands.back();
    return fault(
        format("no {} can \"{}\" at level {}", task.hands.size() == 2 ? "two people" : "one",
               shop.skills[hand.skill], hand.level),
        where, "Train or hire somebody, or lower the level");
  }
  return std::nullopt;
}

}  // namespace

Time JobPlan::end() const {
  if (slots.empty()) return kNever;
  Time last = 0;
  for (const Slot& slot : slots) last = std::max(last, slot.span.until);
  return last;
}

bool can(const Person& person, const Hand& hand) {
  return hand.skill < person.levels.size() && person.levels[hand.skill] > 0 &&
         person.levels[hand.skill] >= hand.level;
}

bool suits(const Shop& shop, std::size_t bay, const Stage& stage) {
  if (stage.bay) return *stage.bay == bay;
  const auto& has = shop.bays[bay].features;
  return std::all_of(stage.features.begin(), stage.features.end(), [&has](std::size_t feature) {
    return std::find(has.begin(), has.end(), feature) != has.end();
  });
}

Span hold_of(const Job& job, const std::vector<Slot>& slots, std::size_t stage) {
  Span hold{kNever, 0};
  for (std::size_t i = 0; i < job.tasks.size(); ++i) {
    if (job.tasks[i].stage != stage) continue;
    hold.from = std::min(hold.from, slots[i].span.from);
    hold.until = std::max(hold.until, slots[i].span.until);
  }
  return hold;
}

bool has_begun(const Job& job, std::size_t stage) {
  return std::any_of(job.tasks.begin(), job.tasks.end(),
                     [stage](const ShopTask& task) { return task.fixed && task.stage == stage; });
}

std::vector<std::size_t> work_order(const Job& job) {
  const auto next = followers(job);
  const std::size_t count = job.tasks.size();
  std::vector<std::size_t> waits(count, 0);
  for (const auto& list : next) {
    for (const std::size_t to : list) ++waits[to];
  }
  const auto ordered = [&](const std::vector<Time>& tail) {
    std::vector<std::size_t> open = waits;
    std::vector<std::size_t> order;
    std::vector<char> taken(count, 0);
    while (order.size() < count) {
      std::size_t best = count;
      for (std::size_t i = 0; i < count; ++i) {
        if (taken[i] || open[i] > 0) continue;
        if (best == count || tail[i] > tail[best]) best = i;
      }
      if (best == count) return std::vector<std::size_t>{};
      taken[best] = 1;
      order.push_back(best);
      for (const std::size_t to : next[best]) --open[to];
    }
    return order;
  };
  std::vector<Time> tail(count, 0);
  auto order = ordered(tail);
  for (auto i = order.rbegin(); i != order.rend(); ++i) {
    for (const std::size_t to : next[*i]) tail[*i] = std::max(tail[*i], tail[to]);
    tail[*i] += job.tasks[*i].work;
  }
  return order.empty() ? order : ordered(tail);
}

std::optional<Error> fault_of(const Shop& shop, const std::vector<Job>& jobs, Time now) {
  if (shop.crowd < 2) return fault("fewer than two people fit at a vehicle", "shop", "Allow two");
  for (const Job& job : jobs) {
    for (const ShopTask& task : job.tasks) {
      if (auto found = fault_of(shop, job, task)) return found;
    }
    for (const After& after : job.afters) {
      if (after.from >= job.tasks.size() || after.to >= job.tasks.size() || after.least < 0 ||
          after.most < after.least) {
        return fault("an after names a task that is not there, or its times cross", job.id,
                     "Correct the template");
      }
    }
    for (std::size_t k = 0; k < job.stages.size(); ++k) {
      if (std::none_of(job.tasks.begin(), job.tasks.end(),
                       [k](const ShopTask& task) { return task.stage == k; })) {
        return fault(format("stage {} has no task", k + 1), job.id, "Delete the stage");
      }
      bool found = false;
      for (std::size_t bay = 0; bay < shop.bays.size(); ++bay) {
        found = found || suits(shop, bay, job.stages[k]);
      }
      if (!found) return fault(format("no bay has what stage {} needs", k + 1), job.id, "");
    }
    if (const std::string circle = circle_of(job); !circle.empty()) {
      return fault("tasks wait for each other in a circle: " + circle, job.id,
                   "Take one of these afters away");
    }
    const bool open = std::any_of(job.tasks.begin(), job.tasks.end(), [now](const ShopTask& task) {
      return !task.fixed || task.fixed->span.until > now;
    });
    if (open && job.promise <= now) {
      return fault(format("the promise {} has already passed", when(shop, job.promise)), job.id,
                   "Agree on a new time with the customer");
    }
  }
  return std::nullopt;
}

std::string when(const Shop& shop, Time t) {
  if (t >= kNever) return "never";
  static constexpr std::array kDays{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
  const Civil civil = civil_of(shop.zone, shop.origin + t * shop.step);
  const auto day = std::chrono::floor<std::chrono::days>(civil);
  const auto minute = (civil - day).count();
  const std::chrono::year_month_day date(day);
  return format("{} {:02}-{:02} {:02}:{:02}", kDays[std::chrono::weekday(day).iso_encoding() - 1],
                static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), minute / 60,
                minute % 60);
}

std::string hours(const Shop& shop, Time steps) {
  const auto minutes = steps * shop.step.count();
  if (minutes % 60 == 0) return format("{} h", minutes / 60);
  return minutes < 60 ? format("{} min", minutes)
                      : format("{} h {} min", minutes / 60, minutes % 60);
}

}  // namespace film::planning
