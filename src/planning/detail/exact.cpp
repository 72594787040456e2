#include "planning/detail/exact.h"

#include <algorithm>
#include <numeric>
#include <optional>
#include <tuple>
#include <utility>

#include "planning/detail/board.h"

namespace film::planning::detail {
namespace {

using Crew = std::vector<std::size_t>;

/// start(to) >= end(from) + gap, or end(to) >= start(from) - gap when `late`.
struct Push {
  std::size_t from = 0;
  std::size_t to = 0;
  Time gap = 0;
  bool late = false;
};

struct Step {
  std::size_t job = 0;   // of the free ones
  std::size_t task = 0;  // of the job
  std::vector<Crew> crews;
  std::vector<const WorkLine*> lines;  // of the crews; none for a wait
};

struct Stay {
  std::size_t job = 0, stage = 0;
  std::vector<std::size_t> steps;
  std::vector<std::size_t> bays;  // that suit
  bool begun = false;             // two that have begun may be in one bay: that is a fact
};

struct Hold {
  Span span;
  bool begun = false;
};

constexpr std::size_t kOpen = static_cast<std::size_t>(-1);

/// All that is decided, and the soonest times that follow.
struct State {
  std::vector<Span> spans;         // of each step, lower bounds of start and end
  std::vector<Time> release, due;  // of each step
  std::vector<std::size_t> crew;   // of each step, or open
  std::vector<std::size_t> bay;    // of each stay, or open
  std::vector<Push> pushes;        // decided, beside those of the jobs
};

class Tree {
 public:
  Tree(const Shop& shop, const std::vector<Job>& jobs, const ShopPlan& plan,
       const std::vector<std::size_t>& free, Time now, std::int64_t most_work)
      : shop_(shop), most_work_(most_work), people_(shop.people.size()), holds_(shop.bays.size()) {
    for (const std::size_t j : free) jobs_.push_back(&jobs[j]);
    Time horizon = now;
    for (const Person& person : shop.people) {
      if (!person.hours.spans().empty()) {
        horizon = std::max(horizon, person.hours.spans().back().until);
      }
    }
    pairs_.resize(shop.people.size() * shop.people.size());
    occupy(jobs, plan, free);
    for (std::size_t k = 0; k < jobs_.size(); ++k) add_job(k, now);
    for (const Job* job : jobs_) {
      for (const ShopTask& task : job->tasks) horizon += task.work;
      for (const After& after : job->afters) horizon += after.least;
    }
    for (Time& due : root_.due) due = std::min(due, horizon);
    root_.spans.assign(steps_.size(), Span{0, 0});
    root_.bay.assign(stays_.size(), kOpen);
  }

  Exact run() {
    Exact exact;
    std::vector<std::size_t> all(steps_.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    const bool found = settle(root_, std::move(all)) && search(root_);
    exact.work = work_;
    exact.outcome = found     ? Exact::Outcome::found
                    : spent() ? Exact::Outcome::unknown
                              : Exact::Outcome::none;
    if (found) exact.plans = std::move(plans_);
    return exact;
  }

 private:
  [[nodiscard]] bool spent() const { return work_ >= most_work_; }
  [[nodiscard]] const ShopTask& task_of(std::size_t s) const {
    return jobs_[steps_[s].job]->tasks[steps_[s].task];
  }

  /// What everybody else has of people, plotter and bays, and what has started.
  void occupy(const std::vector<Job>& jobs, const ShopPlan& plan,
              const std::vector<std::size_t>& free) {
    for (std::size_t j = 0; j < jobs.size(); ++j) {
      const bool moves = std::find(free.begin(), free.end(), j) != free.end();
      for (std::size_t i = 0; i < jobs[j].tasks.size(); ++i) {
        const ShopTask& task = jobs[j].tasks[i];
        if (!task.fixed && (moves || plan[j].slots.empty())) continue;
        const Slot& slot = task.fixed ? *task.fixed : plan[j].slots[i];
        for (const std::size_t person : slot.people) people_[person].cover(slot.span);
        if (task.plotter) plotter_.cover(slot.span);
      }
      if (moves || plan[j].slots.empty()) continue;
      for (std::size_t k = 0; k < jobs[j].stages.size(); ++k) {
        holds_[plan[j].bays[k]].push_back(
            {hold_of(jobs[j], plan[j].slots, k), has_begun(jobs[j], k)});
      }
    }
  }

  const WorkLine* line_of(const Crew& crew) {
    if (crew.size() == 1) return &shop_.people[crew[0]].hours;
    auto& pair =
        pairs_[std::min(crew[0], crew[1]) * shop_.people.size() + std::max(crew[0], crew[1])];
    if (!pair) pair = common(shop_.people[crew[0]].hours, shop_.people[crew[1]].hours);
    return &*pair;
  }

  std::vector<Crew> crews_of(const ShopTask& task) const {
    std::vector<Crew> crews;
    if (task.hands.empty()) return {{}};
    for (std::size_t a = 0; a < shop_.people.size(); ++a) {
      if (!can(shop_.people[a], task.hands[0])) continue;
      if (task.hands.size() == 1) crews.push_back({a});
      for (std::size_t b = 0; task.hands.size() == 2 && b < shop_.people.size(); ++b) {
        if (a == b || !can(shop_.people[b], task.hands[1])) continue;
        if (b < a && task.hands[0] == task.hands[1]) continue;  // the same pair again
        crews.push_back({a, b});
      }
    }
    return crews;
  }

  void add_job(std::size_t k, Time now) {
    const Job& job = *jobs_[k];
    const std::size_t first = steps_.size();
    for (std::size_t i = 0; i < job.tasks.size(); ++i) {
      const ShopTask& task = job.tasks[i];
      Step step{k, i, {}, {}};
      step.crews = task.fixed ? std::vector<Crew>{task.fixed->people} : crews_of(task);
      for (const Crew& crew : step.crews) {
        step.lines.push_back(task.fixed || crew.empty() ? nullptr : line_of(crew));
      }
      root_.crew.push_back(step.crews.size() == 1 ? 0 : kOpen);
      root_.release.push_back(task.fixed ? 0 : std::max(job.arrives, now));
      root_.due.push_back(job.promise);
      steps_.push_back(std::move(step));
    }
    for (const After& after : job.afters) {
      const std::size_t from = first + after.from;
      const std::size_t to = first + after.to;
      if (job.tasks[after.to].fixed) continue;
      root_.pushes.push_back({from, to, after.least, false});
      if (after.most < kNever) root_.pushes.push_back({to, from, after.most, true});
    }
    for (std::size_t s = 0; s < job.stages.size(); ++s) {
      Stay stay{k, s, {}, {}, has_begun(job, s)};
      for (std::size_t i = 0; i < job.tasks.size(); ++i) {
        if (job.tasks[i].stage == s) stay.steps.push_back(first + i);
      }
      for (std::size_t bay = 0; bay < shop_.bays.size(); ++bay) {
        if (suits(shop_, bay, job.stages[s])) stay.bays.push_back(bay);
      }
      if (s > 0) order(root_, stays_.back().steps, stay.steps, 0);
      stays_.push_back(std::move(stay));
    }
  }

  static void order(State& state, const std::vector<std::size_t>& before,
                    const std::vector<std::size_t>& after, Time gap) {
    for (const std::size_t a : before) {
      for (const std::size_t b : after) state.pushes.push_back({a, b, gap, false});
    }
  }

  /// The first span of that crew that starts at `from` or later and ends at `end` or later.
  std::optional<Span> fit(std::size_t s, std::size_t crew, Time from, Time end) const {
    const ShopTask& task = task_of(s);
    const WorkLine* line = steps_[s].lines[crew];
    if (line == nullptr) from = std::max(from, end - task.work);
    while (true) {
      const auto span = line == nullptr ? std::optional(Span{from, from + task.work})
                                        : line->fit(from, task.work, task.pause);
      if (!span || span->until > kNever / 2) return std::nullopt;
      std::optional<Time> blocked;
      for (const std::size_t person : steps_[s].crews[crew]) {
        if (!blocked) blocked = people_[person].blocked(*span);
      }
      if (!blocked && task.plotter) blocked = plotter_.blocked(*span);
      if (!blocked && span->until >= end) return span;
      from = blocked ? *blocked : later(*line, task, *span, end);
    }
  }

  /// The start that brings the end to `end` at best: so many working steps more.
  static Time later(const WorkLine& line, const ShopTask& task, const Span& span, Time end) {
    if (task.pause == Pause::never) return span.from + end - span.until;
    const Time more = std::max(1, line.work_between(span.until, end));
    const auto moved = line.fit(span.from, more + 1, Pause::at_breaks);
    return moved ? moved->until - 1 : kNever;
  }

  /// The soonest span of a step, over all crews it may still have; nothing past its due time.
  std::optional<Span> soonest(const State& state, std::size_t s, Time from, Time end) {
    ++work_;
    const auto& fixed = task_of(s).fixed;
    if (fixed) {
      const Span& span = fixed->span;
      const bool stands = from <= span.from && end <= span.until && span.until <= state.due[s];
      return stands ? std::optional(span) : std::nullopt;
    }
    Span best{kNever, kNever};
    for (std::size_t c = 0; c < steps_[s].crews.size(); ++c) {
      if (state.crew[s] != kOpen && state.crew[s] != c) continue;
      const auto span = fit(s, c, from, end);
      if (!span || span->until > state.due[s]) continue;
      best.from = std::min(best.from, span->from);
      best.until = std::min(best.until, span->until);
    }
    if (best.until >= kNever) return std::nullopt;
    return best;
  }

  /// Pushes tasks until nothing pushes any more; false when one comes too late.
  bool settle(State& state, std::vector<std::size_t> open) {
    std::vector<char> waiting(steps_.size(), 0);
    for (const std::size_t s : open) waiting[s] = 1;
    while (!open.empty()) {
      if (spent()) return false;
      const std::size_t s = open.back();
      open.pop_back();
      waiting[s] = 0;
      Time from = std::max(state.release[s], state.spans[s].from);
      Time end = state.spans[s].until;
      for (const Push& push : state.pushes) {
        if (push.to != s || (task_of(s).fixed && task_of(push.from).fixed)) continue;
        if (push.late) {
          end = std::max(end, state.spans[push.from].from - push.gap);
        } else {
          from = std::max(from, state.spans[push.from].until + push.gap);
        }
      }
      const auto span = soonest(state, s, from, end);
      if (!span) return false;
      if (*span == state.spans[s]) continue;
      state.spans[s] = *span;
      for (const Push& push : state.pushes) {
        if (push.from != s || waiting[push.to] != 0) continue;
        waiting[push.to] = 1;
        open.push_back(push.to);
      }
    }
    return true;
  }

  [[nodiscard]] Span hold(const State& state, const Stay& stay) const {
    Span span{kNever, 0};
    for (const std::size_t s : stay.steps) {
      span.from = std::min(span.from, state.spans[s].from);
      span.until = std::max(span.until, state.spans[s].until);
    }
    return span;
  }

  /// Tries one decision more.
  template <class Decide>
  bool attempt(const State& state, Decide decide) {
    if (spent()) return false;
    State next = state;
    std::vector<std::size_t> touched;
    decide(next, touched);
    return settle(next, std::move(touched)) && search(next);
  }

  bool before(const State& state, const std::vector<std::size_t>& a,
              const std::vector<std::size_t>& b) {
    return attempt(state, [&](State& next, std::vector<std::size_t>& touched) {
      order(next, a, b, 0);
      touched = b;
    });
  }

  /// Both orders, that which pushes less first.
  bool either(const State& state, const std::vector<std::size_t>& a,
              const std::vector<std::size_t>& b, const Span& span_a, const Span& span_b) {
    const bool a_first = span_a.until - span_b.from <= span_b.until - span_a.from;
    return a_first ? before(state, a, b) || before(state, b, a)
                   : before(state, b, a) || before(state, a, b);
  }

  bool choose_crew(const State& state, std::size_t s) {
    std::vector<std::tuple<Time, std::size_t>> ways;
    for (std::size_t c = 0; c < steps_[s].crews.size(); ++c) {
      const auto span = fit(s, c, state.spans[s].from, state.spans[s].until);
      if (span && span->until <= state.due[s]) ways.emplace_back(span->until, c);
    }
    std::sort(ways.begin(), ways.end());
    for (const auto& way : ways) {
      const bool found = attempt(state, [&](State& next, std::vector<std::size_t>& touched) {
        next.crew[s] = std::get<1>(way);
        touched = {s};
      });
      if (found) return true;
    }
    return false;
  }

  bool choose_bay(const State& state, std::size_t k) {
    const Stay& stay = stays_[k];
    std::vector<std::size_t> bays = stay.bays;
    std::stable_sort(bays.begin(), bays.end(), [this](std::size_t a, std::size_t b) {
      return shop_.bays[a].features.size() < shop_.bays[b].features.size();
    });
    const bool follows = k > 0 && stays_[k - 1].job == stay.job;
    const bool leads = k + 1 < stays_.size() && stays_[k + 1].job == stay.job;
    for (const std::size_t bay : bays) {
      const bool found = attempt(state, [&](State& next, std::vector<std::size_t>& touched) {
        next.bay[k] = bay;
        touched = stay.steps;
        if (follows && next.bay[k - 1] != kOpen && next.bay[k - 1] != bay) {
          order(next, stays_[k - 1].steps, stay.steps, shop_.move);
        }
        if (leads && next.bay[k + 1] != kOpen && next.bay[k + 1] != bay) {
          order(next, stay.steps, stays_[k + 1].steps, shop_.move);
          touched.insert(touched.end(), stays_[k + 1].steps.begin(), stays_[k + 1].steps.end());
        }
      });
      if (found) return true;
    }
    return false;
  }

  /// The vehicle of another job is in the bay: wholly before it, or wholly after.
  bool around(const State& state, const Stay& stay, const Span& other) {
    const auto sooner = [&](State& next, std::vector<std::size_t>& touched) {
      for (const std::size_t s : stay.steps) next.due[s] = std::min(next.due[s], other.from);
      touched = stay.steps;
    };
    const auto after = [&](State& next, std::vector<std::size_t>& touched) {
      for (const std::size_t s : stay.steps) {
        next.release[s] = std::max(next.release[s], other.until);
      }
      touched = stay.steps;
    };
    return attempt(state, sooner) || attempt(state, after);
  }

  /// What is still open or at odds, the soonest first; all is well when nothing is.
  bool search(const State& state) {
    if (spent()) return false;
    std::vector<std::size_t> line(steps_.size());
    std::iota(line.begin(), line.end(), std::size_t{0});
    std::stable_sort(line.begin(), line.end(), [&](std::size_t a, std::size_t b) {
      return state.spans[a].from < state.spans[b].from;
    });
    for (std::size_t n = 0; n < line.size(); ++n) {
      const std::size_t s = line[n];
      if (state.crew[s] == kOpen) return choose_crew(state, s);
      for (std::size_t m = 0; m < n; ++m) {
        if (at_odds(state, line[m], s)) {
          return either(state, {line[m]}, {s}, state.spans[line[m]], state.spans[s]);
        }
      }
      const auto crowd = crowd_at(state, line, n);
      if (!crowd.empty()) return spread(state, crowd);
    }
    return search_bays(state);
  }

  bool search_bays(const State& state) {
    std::vector<std::size_t> line(stays_.size());
    std::iota(line.begin(), line.end(), std::size_t{0});
    std::stable_sort(line.begin(), line.end(), [&](std::size_t a, std::size_t b) {
      return hold(state, stays_[a]).from < hold(state, stays_[b]).from;
    });
    for (std::size_t n = 0; n < line.size(); ++n) {
      const Stay& stay = stays_[line[n]];
      if (state.bay[line[n]] == kOpen) return choose_bay(state, line[n]);
      const Span span = hold(state, stay);
      for (const Hold& other : holds_[state.bay[line[n]]]) {
        if (stay.begun && other.begun) continue;
        if (other.span.meets(span)) return around(state, stay, other.span);
      }
      for (std::size_t m = 0; m < n; ++m) {
        const Stay& other = stays_[line[m]];
        if (state.bay[line[m]] != state.bay[line[n]] || !hold(state, other).meets(span)) continue;
        if (stay.begun && other.begun) continue;
        return either(state, other.steps, stay.steps, hold(state, other), span);
      }
    }
    take(state);
    return true;
  }

  bool at_odds(const State& state, std::size_t a, std::size_t b) const {
    if (!state.spans[a].meets(state.spans[b])) return false;
    if (task_of(a).fixed && task_of(b).fixed) return false;
    if (task_of(a).plotter && task_of(b).plotter) return true;
    const Crew& crew = steps_[a].crews[state.crew[a]];
    const Crew& other = steps_[b].crews[state.crew[b]];
    return std::any_of(crew.begin(), crew.end(), [&other](std::size_t person) {
      return std::find(other.begin(), other.end(), person) != other.end();
    });
  }

  /// The tasks at the vehicle when line[n] starts, when they are too many people.
  std::vector<std::size_t> crowd_at(const State& state, const std::vector<std::size_t>& line,
                                    std::size_t n) const {
    if (!task_of(line[n]).stage) return {};
    std::vector<std::size_t> there;
    std::size_t people = 0;
    bool open = false;
    for (std::size_t m = 0; m <= n; ++m) {
      const std::size_t s = line[m];
      if (steps_[s].job != steps_[line[n]].job || !task_of(s).stage) continue;
      const std::size_t crew = steps_[s].crews[state.crew[s]].size();
      if (crew == 0 || state.spans[s].until <= state.spans[line[n]].from) continue;
      there.push_back(s);
      people += crew;
      open = open || !task_of(s).fixed;
    }
    if (!open || people <= static_cast<std::size_t>(shop_.crowd)) there.clear();
    return there;
  }

  /// Of too many at once, some two are one after the other.
  bool spread(const State& state, const std::vector<std::size_t>& there) {
    for (std::size_t b = there.size(); b-- > 0;) {
      for (std::size_t a = 0; a < b; ++a) {
        if (task_of(there[a]).fixed && task_of(there[b]).fixed) continue;
        if (either(state, {there[a]}, {there[b]}, state.spans[there[a]], state.spans[there[b]])) {
          return true;
        }
      }
    }
    return false;
  }

  void take(const State& state) {
    plans_.clear();
    for (const Job* job : jobs_) {
      plans_.emplace_back();
      plans_.back().slots.resize(job->tasks.size());
      plans_.back().bays.resize(job->stages.size());
    }
    for (std::size_t s = 0; s < steps_.size(); ++s) {
      plans_[steps_[s].job].slots[steps_[s].task] = {state.spans[s],
                                                     steps_[s].crews[state.crew[s]]};
    }
    for (std::size_t k = 0; k < stays_.size(); ++k) {
      plans_[stays_[k].job].bays[stays_[k].stage] = state.bay[k];
    }
  }

  const Shop& shop_;
  const std::int64_t most_work_;
  std::int64_t work_ = 0;
  std::vector<const Job*> jobs_;
  std::vector<Step> steps_;
  std::vector<Stay> stays_;
  std::vector<Taken> people_;
  Taken plotter_;
  std::vector<std::vector<Hold>> holds_;  // of all other jobs, by bay
  std::vector<std::optional<WorkLine>> pairs_;
  State root_;
  std::vector<JobPlan> plans_;
};

}  // namespace

Exact place_exactly(const Shop& shop, const std::vector<Job>& jobs, const ShopPlan& plan,
                    const std::vector<std::size_t>& free, Time now, std::int64_t most_work) {
  return Tree(shop, jobs, plan, free, now, most_work).run();
}

}  // namespace film::planning::detail
