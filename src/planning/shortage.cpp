#include "planning/shortage.h"

#include <algorithm>
#include <cstdint>
#include <functional>
#include <limits>
#include <set>

#include "base/text.h"

namespace film::planning {
namespace {

using TaskId = std::pair<std::size_t, std::size_t>;
using People = std::vector<char>;  // by person: in the group or not

constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();

/// What lags and working time alone allow to one task.
struct Window {
  Time start = 0;            // no sooner
  Time end = 0;              // it ends no sooner
  Time latest_end = kNever;  // it ends no later
  Time latest_start = kNever;
  std::size_t before = kNone;  // the task that it has to wait for
};

/// Work that lies within [from, until).
struct Item {
  Time from = 0;
  Time until = kNever;
  Time amount = 0;
  TaskId task;
};

struct Windows {
  std::vector<Window> of;
  std::size_t late = kNone;  // a task that cannot end in time
};

Window forward(const Shop& shop, const ShopTask& task, Time ready) {
  Window window{ready, ready + task.work, kNever, kNever, kNone};
  for (const Hand& hand : task.hands) {
    Span soonest{kNever, kNever};
    for (const Person& person : shop.people) {
      if (!can(person, hand)) continue;
      const auto span = person.hours.fit(ready, task.work, task.pause);
      if (!span) continue;
      soonest.from = std::min(soonest.from, span->from);
      soonest.until = std::min(soonest.until, span->until);
    }
    window.start = std::max(window.start, soonest.from);
    window.end = std::max(window.end, soonest.until);
  }
  return window;
}

Time backward(const Shop& shop, const ShopTask& task, Time until) {
  if (until >= kNever) return kNever;
  Time start = until - task.work;
  for (const Hand& hand : task.hands) {
    Time last = -1;
    for (const Person& person : shop.people) {
      if (!can(person, hand)) continue;
      last = std::max(last, person.hours.latest_start(until, task.work, task.pause).value_or(-1));
    }
    start = std::min(start, last);
  }
  return start;
}

/// Afters and stages as pairs with a least lag; those into started tasks bind nothing.
std::vector<After> orders_of(const Job& job) {
  std::vector<After> orders;
  for (const After& after : job.afters) {
    if (!job.tasks[after.to].fixed) orders.push_back(after);
  }
  for (std::size_t a = 0; a < job.tasks.size(); ++a) {
    for (std::size_t b = 0; b < job.tasks.size(); ++b) {
      const auto first = job.tasks[a].stage;
      const auto second = job.tasks[b].stage;
      if (first && second && *first + 1 == *second && !job.tasks[b].fixed) orders.push_back({a, b});
    }
  }
  return orders;
}

Windows windows_of(const Shop& shop, const Job& job, Time now) {
  Windows windows;
  windows.of.resize(job.tasks.size());
  const auto order = work_order(job);
  const auto orders = orders_of(job);
  for (const std::size_t i : order) {
    const ShopTask& task = job.tasks[i];
    Window& own = windows.of[i];
    if (task.fixed) {
      own = {task.fixed->span.from, task.fixed->span.until, task.fixed->span.until,
             task.fixed->span.from, kNone};
      continue;
    }
    Time ready = std::max(job.arrives, now);
    std::size_t before = kNone;
    for (const After& after : orders) {
      if (after.to != i || windows.of[after.from].end + after.least <= ready) continue;
      ready = windows.of[after.from].end + after.least;
      before = after.from;
    }
    own = forward(shop, task, ready);
    own.before = before;
  }
  for (auto i = order.rbegin(); i != order.rend(); ++i) {
    const ShopTask& task = job.tasks[*i];
    if (task.fixed) continue;
    Window& own = windows.of[*i];
    own.latest_end = job.promise;
    for (const After& after : orders) {
      if (after.from != *i || windows.of[after.to].latest_start >= kNever) continue;
      own.latest_end = std::min(own.latest_end, windows.of[after.to].latest_start - after.least);
    }
    own.latest_start = backward(shop, task, own.latest_end);
    if (own.end > own.latest_end || own.start > own.latest_start) windows.late = *i;
  }
  // Told at the end of the job, where people look, when the job as a whole ends too late.
  for (std::size_t i = 0; i < job.tasks.size(); ++i) {
    if (!job.tasks[i].fixed && windows.of[i].end > job.promise) {
      if (windows.late == kNone || windows.of[i].end >= windows.of[windows.late].end ||
          windows.of[windows.late].end <= job.promise) {
        windows.late = i;
      }
    }
  }
  return windows;
}

/// The heaviest overload of the items that lie between two times, if any.
std::optional<std::pair<Time, Time>> overload(std::vector<Item> items,
                                              const std::function<Time(Time, Time)>& supply) {
  std::sort(items.begin(), items.end(),
            [](const Item& a, const Item& b) { return a.until < b.until; });
  std::set<Time> starts;
  for (const Item& item : items) starts.insert(item.from);
  std::optional<std::pair<Time, Time>> worst;
  Time most = 0;
  for (const Time from : starts) {
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < items.size(); ++i) {
      if (items[i].until >= kNever) break;
      if (items[i].until <= from) continue;
      if (items[i].from >= from) sum += items[i].amount;
      if (i + 1 < items.size() && items[i + 1].until == items[i].until) continue;
      const auto over = static_cast<Time>(sum - supply(from, items[i].until));
      if (over <= most) continue;
      most = over;
      worst = {from, items[i].until};
    }
  }
  return worst;
}

class Proof {
 public:
  Proof(const Shop& shop, const std::vector<Job>& jobs, Time now)
      : shop_(shop), jobs_(jobs), now_(now) {}

  std::optional<Shortage> find() {
    for (std::size_t j = 0; j < jobs_.size(); ++j) {
      windows_.push_back(windows_of(shop_, jobs_[j], now_));
      if (windows_.back().late != kNone) return chain(j);
    }
    if (auto found = people()) return found;
    if (auto found = crowd()) return found;
    if (auto found = bays()) return found;
    return plotter();
  }

 private:
  Shortage chain(std::size_t j) const {
    const Job& job = jobs_[j];
    const Windows& windows = windows_[j];
    std::vector<std::size_t> walk;
    for (std::size_t i = windows.late; i != kNone; i = windows.of[i].before) walk.push_back(i);
    std::reverse(walk.begin(), walk.end());
    Shortage found;
    std::string steps;
    for (const std::size_t i : walk) {
      found.tasks.emplace_back(j, i);
      steps += (steps.empty() ? "" : ", ") + job.tasks[i].id;
    }
    const Window& last = windows.of[windows.late];
    found.reason = format(
        "{}: even with everybody free, {} ends no sooner than {} and would have to end by {} for "
        "the "
        "promise {}: {} follow one another from {}",
        job.id, job.tasks[windows.late].id, when(shop_, last.end), when(shop_, last.latest_end),
        when(shop_, job.promise), steps, when(shop_, std::max(job.arrives, now_)));
    return found;
  }

  [[nodiscard]] People group_of(const Hand& hand) const {
    People group;
    for (const Person& person : shop_.people) group.push_back(can(person, hand) ? 1 : 0);
    return group;
  }

  /// What people of the group have left between two times beside what has started.
  [[nodiscard]] Time hours_of(const People& group, Time from, Time until) const {
    Time sum = 0;
    for (std::size_t p = 0; p < group.size(); ++p) {
      if (!group[p]) continue;
      sum += shop_.people[p].hours.work_between(std::max(from, now_), until);
      sum -= begun_[p].work_between(std::max(from, now_), until);
    }
    return sum;
  }

  std::optional<Shortage> people() {
    struct Need {
      People group;
      Item item;
      std::string skill;
    };
    std::vector<Need> needs;
    std::set<People> groups;
    for_each([&](std::size_t j, std::size_t i, const ShopTask& task, const Window& window) {
      for (const Hand& hand : task.hands) {
        needs.push_back({group_of(hand),
                         {window.start, window.latest_end, task.work, {j, i}},
                         shop_.skills[hand.skill]});
        groups.insert(needs.back().group);
      }
    });
    collect_begun();
    // Unions of groups: what two skills need together, of all who have either.
    static constexpr std::size_t kMostGroups = 64;
    const std::vector<People> single(groups.begin(), groups.end());
    for (const People& one : single) {
      const std::vector<People> known(groups.begin(), groups.end());
      for (const People& other : known) {
        if (groups.size() >= kMostGroups) break;
        People both = one;
        for (std::size_t p = 0; p < both.size(); ++p) both[p] = one[p] || other[p] ? 1 : 0;
        groups.insert(std::move(both));
      }
    }
    for (const People& group : groups) {
      std::vector<Item> items;
      std::set<std::string> skills;
      for (const Need& need : needs) {
        bool within = true;
        for (std::size_t p = 0; p < group.size(); ++p) within = within && need.group[p] <= group[p];
        if (!within) continue;
        items.push_back(need.item);
        skills.insert(need.skill);
      }
      const auto supply = [&](Time from, Time until) { return hours_of(group, from, until); };
      if (const auto window = overload(items, supply)) {
        std::string names;
        for (const std::string& skill : skills) names += (names.empty() ? "" : ", ") + skill;
        return told(Shortage::Kind::people, items, *window, supply(window->first, window->second),
                    "of " + names, "on shift of people who can");
      }
    }
    return std::nullopt;
  }

  std::optional<Shortage> crowd() const {
    Time end = 0;
    for (const Person& person : shop_.people) {
      if (!person.hours.spans().empty()) end = std::max(end, person.hours.spans().back().until);
    }
    std::vector<int> there(static_cast<std::size_t>(end) + 1, 0);  // change of people on shift
    for (const Person& person : shop_.people) {
      for (const Span& span : person.hours.spans()) {
        ++there[static_cast<std::size_t>(span.from)];
        --there[static_cast<std::size_t>(span.until)];
      }
    }
    std::vector<Time> sum{0};
    int count = 0;
    for (const int change : there) {
      count += change;
      sum.push_back(sum.back() + std::min(count, shop_.crowd));
    }
    const auto supply = [&](Time from, Time until) {
      const auto at = [&](Time t) { return sum[static_cast<std::size_t>(std::clamp(t, 0, end))]; };
      return at(until) - at(from);
    };
    for (std::size_t j = 0; j < jobs_.size(); ++j) {
      std::vector<Item> items;
      for (std::size_t i = 0; i < jobs_[j].tasks.size(); ++i) {
        const ShopTask& task = jobs_[j].tasks[i];
        const Window& window = windows_[j].of[i];
        if (task.fixed || !task.stage || task.hands.empty()) continue;
        items.push_back({window.start,
                         window.latest_end,
                         task.work * static_cast<Time>(task.hands.size()),
                         {j, i}});
      }
      if (const auto window = overload(items, supply)) {
        return told(Shortage::Kind::crowd, items, *window, supply(window->first, window->second),
                    "of hands at " + jobs_[j].id,
                    format("there when {} people fit at a vehicle", shop_.crowd));
      }
    }
    return std::nullopt;
  }

  /// The least time a stage holds its bay: its longest chain of work and lags, by the clock.
  [[nodiscard]] Time hold_least(const Job& job, std::size_t stage) const {
    std::vector<Time> done(job.tasks.size(), 0);
    Time longest = 0;
    for (const std::size_t i : work_order(job)) {
      if (job.tasks[i].stage != stage) continue;
      for (const After& after : job.afters) {
        if (after.to == i && job.tasks[after.from].stage == stage) {
          done[i] = std::max(done[i], done[after.from] + after.least);
        }
      }
      done[i] += job.tasks[i].work;
      longest = std::max(longest, done[i]);
    }
    return longest;
  }

  /// Two stages that need the same single bay: one must be over before the other begins.
  [[nodiscard]] std::optional<Shortage> either(const Item& a, const Item& b) const {
    const auto fits = [this](const Item& first, const Item& second) {
      const Time start = std::max(over_of(first), second.from);
      return start <= begin_by(second) && start + second.amount <= second.until;
    };
    if (fits(a, b) || fits(b, a)) return std::nullopt;
    const auto tell = [this](const Item& item) {
      return format("{} from {} to {} for {}", jobs_[item.task.first].id, when(shop_, item.from),
                    when(shop_, item.until), hours(shop_, item.amount));
    };
    return Shortage{
        Shortage::Kind::bays,
        format("the only bay that suits both is needed within {} at least, and within {} "
               "at least: neither can be over in time for the other",
               tell(a), tell(b)),
        {a.task, b.task}};
  }

  [[nodiscard]] std::size_t stage_of(const Item& item) const {
    return *jobs_[item.task.first].tasks[item.task.second].stage;
  }

  /// A stage is over no sooner than this.
  [[nodiscard]] Time over_of(const Item& item) const {
    Time end = item.from + item.amount;
    const auto& tasks = jobs_[item.task.first].tasks;
    for (std::size_t i = 0; i < tasks.size(); ++i) {
      if (tasks[i].stage == stage_of(item)) {
        end = std::max(end, windows_[item.task.first].of[i].end);
      }
    }
    return end;
  }

  /// A stage begins no later than this: the latest start of any of its tasks.
  [[nodiscard]] Time begin_by(const Item& item) const {
    Time start = kNever;
    const auto& tasks = jobs_[item.task.first].tasks;
    for (std::size_t i = 0; i < tasks.size(); ++i) {
      if (tasks[i].stage == stage_of(item)) {
        start = std::min(start, windows_[item.task.first].of[i].latest_start);
      }
    }
    return start;
  }

  std::optional<Shortage> bays() const {
    struct Need {
      People group;
      Item item;
    };
    std::vector<Need> needs;
    std::set<People> groups;
    for (std::size_t j = 0; j < jobs_.size(); ++j) {
      for (std::size_t k = 0; k < jobs_[j].stages.size(); ++k) {
        Need need;
        for (std::size_t b = 0; b < shop_.bays.size(); ++b) {
          need.group.push_back(suits(shop_, b, jobs_[j].stages[k]) ? 1 : 0);
        }
        need.item = {kNever, 0, hold_least(jobs_[j], k), {j, 0}};
        bool begun = false;
        for (std::size_t i = 0; i < jobs_[j].tasks.size(); ++i) {
          if (jobs_[j].tasks[i].stage != k) continue;
          begun = begun || jobs_[j].tasks[i].fixed;
          need.item.task.second = i;
          need.item.from = std::min(need.item.from, windows_[j].of[i].start);
          need.item.until = std::max(need.item.until, windows_[j].of[i].latest_end);
        }
        if (begun) continue;  // part of the hold is over
        groups.insert(need.group);
        needs.push_back(std::move(need));
      }
    }
    for (std::size_t a = 0; a < needs.size(); ++a) {
      for (std::size_t b = a + 1; b < needs.size(); ++b) {
        const bool only = std::count(needs[a].group.begin(), needs[a].group.end(), 1) == 1;
        if (!only || needs[a].group != needs[b].group) continue;
        if (needs[a].item.task.first == needs[b].item.task.first) continue;
        if (auto found = either(needs[a].item, needs[b].item)) return found;
      }
    }
    for (const People& group : groups) {
      std::vector<Item> items;
      for (const Need& need : needs) {
        bool within = true;
        for (std::size_t b = 0; b < group.size(); ++b) within = within && need.group[b] <= group[b];
        if (within) items.push_back(need.item);
      }
      const auto count = static_cast<Time>(std::count(group.begin(), group.end(), 1));
      const auto supply = [count](Time from, Time until) { return count * (until - from); };
      if (const auto window = overload(items, supply)) {
        return told(Shortage::Kind::bays, items, *window, supply(window->first, window->second),
                    "in bays", format("there in the {} that suit", count));
      }
    }
    return std::nullopt;
  }

  std::optional<Shortage> plotter() const {
    std::vector<Item> items;
    for_each([&](std::size_t j, std::size_t i, const ShopTask& task, const Window& window) {
      if (task.plotter) items.push_back({window.start, window.latest_end, task.work, {j, i}});
    });
    const auto supply = [](Time from, Time until) { return until - from; };
    if (const auto window = overload(items, supply)) {
      return told(Shortage::Kind::plotter, items, *window, supply(window->first, window->second),
                  "of the plotter", "there");
    }
    return std::nullopt;
  }

  template <class Visit>
  void for_each(Visit visit) const {
    for (std::size_t j = 0; j < jobs_.size(); ++j) {
      for (std::size_t i = 0; i < jobs_[j].tasks.size(); ++i) {
        if (!jobs_[j].tasks[i].fixed) visit(j, i, jobs_[j].tasks[i], windows_[j].of[i]);
      }
    }
  }

  void collect_begun() {
    std::vector<std::vector<Span>> begun(shop_.people.size());
    for (const Job& job : jobs_) {
      for (const ShopTask& task : job.tasks) {
        if (!task.fixed) continue;
        for (const std::size_t p : task.fixed->people) begun[p].push_back(task.fixed->span);
      }
    }
    for (std::size_t p = 0; p < begun.size(); ++p) {
      std::sort(begun[p].begin(), begun[p].end(),
                [](const Span& a, const Span& b) { return a.from < b.from; });
      begun_.push_back(common(shop_.people[p].hours, WorkLine(std::move(begun[p]))));
    }
  }

  [[nodiscard]] Shortage told(Shortage::Kind kind, const std::vector<Item>& items,
                              std::pair<Time, Time> window, Time supply, const std::string& what,
                              const std::string& have) const {
    Shortage found;
    found.kind = kind;
    Time need = 0;
    std::set<std::string> names;
    for (const Item& item : items) {
      if (item.from < window.first || item.until > window.second) continue;
      need += item.amount;
      found.tasks.push_back(item.task);
      names.insert(jobs_[item.task.first].id);
    }
    std::string who;
    for (const std::string& name : names) who += (who.empty() ? "" : ", ") + name;
    found.reason = format("needs {} {} between {} and {} ({}), only {} are {}", hours(shop_, need),
                          what, when(shop_, window.first), when(shop_, window.second), who,
                          hours(shop_, supply), have);
    return found;
  }

  const Shop& shop_;
  const std::vector<Job>& jobs_;
  Time now_;
  std::vector<Windows> windows_;
  std::vector<WorkLine> begun_;  // of each person: working time that started tasks take
};

}  // namespace

std::optional<Shortage> find_shortage(const Shop& shop, const std::vector<Job>& jobs, Time now) {
  return Proof(shop, jobs, now).find();
}

}  // namespace film::planning
