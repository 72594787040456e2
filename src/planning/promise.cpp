#include "planning/promise.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <optional>
#include <tuple>
#include <utility>

#include "base/rng.h"
#include "base/text.h"
#include "planning/detail/exact.h"
#include "planning/shortage.h"

namespace film::planning {
namespace {

struct Step {
  std::size_t job, task;
  const WorkLine* line = nullptr;  // null: a wait
};

/// One run after another over the same plan.
class Play {
 public:
  Play(const Shop& shop, const std::vector<Job>& jobs, const ShopPlan& plan)
      : shop_(shop), jobs_(jobs), plan_(plan) {
    std::vector<std::tuple<Time, Time, std::size_t, std::size_t, std::size_t>> order;
    for (std::size_t j = 0; j < jobs.size(); ++j) {
      if (plan[j].slots.empty()) continue;
      const auto own = work_order(jobs[j]);
      for (std::size_t k = 0; k < own.size(); ++k) {
        const Span& span = plan[j].slots[own[k]].span;
        order.emplace_back(span.from, span.until, j, k, own[k]);
      }
    }
    ends_.assign(jobs.size(), {});
    for (std::size_t j = 0; j < jobs.size(); ++j) ends_[j].resize(jobs[j].tasks.size());
    std::sort(order.begin(), order.end());
    pairs_.reserve(order.size());
    for (const auto& entry : order) {
      const std::size_t j = std::get<2>(entry);
      const std::size_t i = std::get<4>(entry);
      const auto& people = plan[j].slots[i].people;
      const WorkLine* line = nullptr;
      if (people.size() == 1) line = &shop.people[people[0]].hours;
      if (people.size() == 2) {
        pairs_.push_back(common(shop.people[people[0]].hours, shop.people[people[1]].hours));
        line = &pairs_.back();
      }
      steps_.push_back({j, i, line});
    }
  }

  /// True when a task came too late after another.
  bool run(std::uint64_t seed) {
    person_.assign(shop_.people.size(), 0);
    bay_.assign(shop_.bays.size(), {});
    stage_end_.assign(jobs_.size(), {});
    for (std::size_t j = 0; j < jobs_.size(); ++j) stage_end_[j].assign(jobs_[j].stages.size(), 0);
    plotter_ = 0;
    bool missed = false;
    for (const Step& step : steps_) missed = play(step, seed) || missed;
    return missed;
  }

  [[nodiscard]] Time end_of(std::size_t job) const {
    if (plan_[job].slots.empty()) return kNever;
    return *std::max_element(ends_[job].begin(), ends_[job].end());
  }

 private:
  struct Holder {
    std::size_t job = 0, stage = 0;
    Time until = 0;   // of the holder
    Time before = 0;  // of all holders before
    bool any = false;
  };

  Time ready(const Step& step, bool& missed) {
    const Job& job = jobs_[step.job];
    const ShopTask& task = job.tasks[step.task];
    const Slot& slot = plan_[step.job].slots[step.task];
    Time from = job.arrives;
    Time latest = kNever;
    for (const After& after : job.afters) {
      if (after.to != step.task) continue;
      from = std::max(from, ends_[step.job][after.from] + after.least);
      if (after.most < kNever) latest = std::min(latest, ends_[step.job][after.from] + after.most);
    }
    for (const std::size_t p : slot.people) from = std::max(from, person_[p]);
    if (task.plotter) from = std::max(from, plotter_);
    if (task.stage) {
      const std::size_t k = *task.stage;
      const auto& bays = plan_[step.job].bays;
      if (k > 0) {
        from =
            std::max(from, stage_end_[step.job][k - 1] + (bays[k] == bays[k - 1] ? 0 : shop_.move));
      }
      Holder& holder = bay_[bays[k]];
      if (!holder.any || holder.job != step.job || holder.stage != k) {
        holder = {step.job, k, 0, std::max(holder.before, holder.until), true};
      }
      from = std::max(from, holder.before);
    }
    missed = from > latest;
    return from;
  }

  bool play(const Step& step, std::uint64_t seed) {
    const ShopTask& task = jobs_[step.job].tasks[step.task];
    const Slot& slot = plan_[step.job].slots[step.task];
    bool missed = false;
    const Time from = ready(step, missed);
    Time end = task.fixed ? task.fixed->span.until : from + task.work;
    if (!task.fixed && step.line != nullptr && from < kNever) {
      const Time work = luck(step, task, seed);
      auto span = step.line->fit(from, work, task.pause);
      if (!span) span = step.line->fit(from, work, Pause::at_breaks);
      end = span ? span->until : kNever;
    }
    end = std::min(end, kNever);
    ends_[step.job][step.task] = end;
    for (const std::size_t p : slot.people) person_[p] = std::max(person_[p], end);
    if (task.plotter) plotter_ = std::max(plotter_, end);
    if (task.stage) {
      Time& stage = stage_end_[step.job][*task.stage];
      stage = std::max(stage, end);
      Holder& holder = bay_[plan_[step.job].bays[*task.stage]];
      holder.until = std::max(holder.until, end);
    }
    return missed;
  }

  static Time luck(const Step& step, const ShopTask& task, std::uint64_t seed) {
    if (task.spread <= 0) return task.work;
    Rng rng(seed * 0x9e3779b97f4a7c15u + step.job * 4099 + step.task);
    // Box and Muller: one normal number.
    const double normal = std::sqrt(-2 * std::log(1 - rng.uniform())) *
                          std::cos(2 * std::numbers::pi * rng.uniform());
    const double variance = std::log1p(task.spread * task.spread);
    const double work = task.work * std::exp(std::sqrt(variance) * normal - variance / 2);
    return std::max(1, static_cast<Time>(std::lround(std::min(work, 1e6))));
  }

  const Shop& shop_;
  const std::vector<Job>& jobs_;
  const ShopPlan& plan_;
  std::vector<Step> steps_;
  std::vector<WorkLine> pairs_;
  std::vector<std::vector<Time>> ends_, stage_end_;
  std::vector<Time> person_;
  std::vector<Holder> bay_;
  Time plotter_ = 0;
};

std::vector<Job> with(const Running& running, const Job& job) {
  std::vector<Job> all = running.jobs;
  all.push_back(job);
  return all;
}

ShopOptions options_of(const PromiseOptions& options, const ShopPlan* running) {
  ShopOptions made;
  made.seed = options.seed;
  made.iterations = options.iterations;
  made.now = options.now;
  made.running = running;
  return made;
}

/// The end of a job in the running plan, never when it has none.
Time end_before(const Running& running, std::size_t j) {
  return j < running.plan.size() ? running.plan[j].end() : kNever;
}

std::vector<Slip> slips_of(const Running& running, const ShopPlan& plan) {
  std::vector<Slip> slips;
  for (std::size_t j = 0; j < running.jobs.size(); ++j) {
    const Slip slip{j, running.jobs[j].promise, end_before(running, j), plan[j].end()};
    if (slip.after > slip.promised && slip.after > slip.before) slips.push_back(slip);
  }
  return slips;
}

/// Every working day that ends in the span ends later by `more`.
WorkLine with_overtime(const WorkLine& line, Span span, Time more, Time night, int& days) {
  std::vector<Span> spans = line.spans();
  for (std::size_t k = 0; k < spans.size(); ++k) {
    const bool last = k + 1 == spans.size() || spans[k + 1].from - spans[k].until >= night;
    if (!last || spans[k].until <= span.from || spans[k].until > span.until) continue;
    spans[k].until += more;
    ++days;
  }
  return WorkLine(std::move(spans));
}

struct Change {
  std::string text;
  Shop shop;
};

/// One more hand for each skill, and each person two hours longer on the days up to `until`.
std::vector<Change> changes_of(const Shop& shop, Time now, Time until) {
  const auto steps = [&shop](std::chrono::hours span) {
    return static_cast<Time>(span / shop.step);
  };
  std::vector<Change> changes;
  for (std::size_t p = 0; p < shop.people.size(); ++p) {
    Change change{{}, shop};
    int days = 0;
    change.shop.people[p].hours =
        with_overtime(shop.people[p].hours, {now, until}, steps(std::chrono::hours(2)),
                      steps(std::chrono::hours(6)), days);
    if (days == 0) continue;
    change.text =
        format("{} stays 2 h longer on {} {}", shop.people[p].id, days, days == 1 ? "day" : "days");
    changes.push_back(std::move(change));
  }
  for (std::size_t skill = 0; skill < shop.skills.size(); ++skill) {
    Person extra{"an extra hand", std::vector<int>(shop.skills.size(), 0), {}};
    Time most = 0;
    for (const Person& person : shop.people) {
      if (!can(person, {skill, 1})) continue;
      extra.levels[skill] = std::max(extra.levels[skill], person.levels[skill]);
      const Time work = person.hours.work_between(now, until);
      if (work > most) extra.hours = person.hours;
      most = std::max(most, work);
    }
    if (most == 0) continue;
    Change change{
        format("an extra hand for \"{}\" until {}", shop.skills[skill], when(shop, until)), shop};
    std::vector<Span> spans = extra.hours.spans();
    std::erase_if(spans, [until](const Span& span) { return span.from >= until; });
    extra.hours = WorkLine(std::move(spans));
    change.shop.people.push_back(std::move(extra));
    changes.push_back(std::move(change));
  }
  return changes;
}

}  // namespace

Simulation simulate(const Shop& shop, const std::vector<Job>& jobs, const ShopPlan& plan,
                    std::uint64_t seed, int runs) {
  Simulation simulation;
  simulation.ends.resize(jobs.size());
  Play play(shop, jobs, plan);
  Rng rng(seed);
  int missed = 0;
  for (int r = 0; r < runs; ++r) {
    if (play.run(rng.next())) ++missed;
    for (std::size_t j = 0; j < jobs.size(); ++j) simulation.ends[j].push_back(play.end_of(j));
  }
  if (runs > 0) simulation.windows_missed = static_cast<double>(missed) / runs;
  return simulation;
}

Time quantile(std::vector<Time> ends, double confidence) {
  static constexpr double kShort = 0.02;
  std::sort(ends.begin(), ends.end());
  // Of n runs and one to come all ranks are equally likely: a time that k runs keep is kept with
  // chance k / (n + 1).
  const auto chance = [&ends](std::size_t kept) {
    return static_cast<double>(kept) / static_cast<double>(ends.size() + 1);
  };
  std::size_t kept = 0;  // runs that end by the latest time that still falls short
  while (kept < ends.size()) {
    std::size_t next = kept;
    while (next < ends.size() && ends[next] == ends[kept]) ++next;
    const double over = chance(next) - confidence;
    if (over >= -1e-9) {
      const double under = kept > 0 ? confidence - chance(kept) : 1;
      return under <= kShort && under < over ? ends[kept - 1] : ends[kept];
    }
    kept = next;
  }
  return kNever;
}

Result<PromiseAnswer> earliest_promise(const Shop& shop, const Running& running, const Job& job,
                                       const PromiseOptions& options, const Context& context) {
  std::vector<Job> jobs = with(running, job);
  // Wanted at once, but by so little that no other promise gives way; the others move where they
  // may.
  double least = 1;
  for (const Job& other : running.jobs) least = std::min(least, other.weight);
  jobs.back().promise = std::max(job.arrives, options.now) + 1;
  jobs.back().weight = 1e-6 * least;
  auto made = plan_shop(shop, jobs, options_of(options, &running.plan), context);
  if (!made) return Failure(made.error());
  PromiseAnswer answer;
  answer.plan = std::move(made->plan);
  answer.planned = answer.plan.back().end();
  if (answer.planned < kNever) {
    auto simulation = simulate(shop, jobs, answer.plan, options.seed, options.runs);
    answer.promise = quantile(std::move(simulation.ends.back()), options.confidence);
  }
  return answer;
}

Result<FitAnswer> fits_by(const Shop& shop, const Running& running, const Job& job, Time by,
                          const PromiseOptions& options, const Context& context) {
  std::vector<Job> jobs = with(running, job);
  jobs.back().promise = by;
  if (auto fault = fault_of(shop, jobs, options.now)) return Failure(*fault);
  for (std::size_t j = 0; j < running.jobs.size(); ++j) {
    // A promise that the running plan breaks already is not asked for.
    if (end_before(running, j) > jobs[j].promise) jobs[j].promise = kNever;
  }
  FitAnswer answer;
  if (auto shortage = find_shortage(shop, jobs, options.now)) {
    answer.fits = Fits::no;
    answer.reason = std::move(shortage->reason);
    answer.tasks = std::move(shortage->tasks);
    return answer;
  }
  // Once with the others where they are and once with the new job before them.
  for (const bool ahead : {false, true}) {
    ShopOptions search = options_of(options, &running.plan);
    if (ahead) search.first = {jobs.size() - 1};
    if (ahead) search.running = nullptr;
    auto made = plan_shop(shop, jobs, search, context);
    if (!made) return Failure(made.error());
    if (made->score.unplanned == 0 && made->score.broken == 0) {
      answer.fits = Fits::yes;
      answer.reason = format("{} ends {}, every other promise holds", job.id,
                             when(shop, made->plan.back().end()));
      answer.plan = std::move(made->plan);
      return answer;
    }
  }
  // The last word where few enough tasks are left for it.
  std::vector<std::size_t> all(jobs.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  auto exact = detail::place_exactly(shop, jobs, ShopPlan(jobs.size()), all, options.now,
                                     context.stopped() ? 0 : 20000);
  if (exact.outcome == detail::Exact::Outcome::found) {
    answer.fits = Fits::yes;
    answer.reason = format("{} ends {}, every other promise holds", job.id,
                           when(shop, exact.plans.back().end()));
    answer.plan = std::move(exact.plans);
  } else if (exact.outcome == detail::Exact::Outcome::none) {
    answer.fits = Fits::no;
    answer.reason = format(
        "every order of the open tasks and everybody who can do them was gone through: {} by {} "
        "breaks another promise or comes too late",
        job.id, when(shop, by));
    for (std::size_t i = 0; i < job.tasks.size(); ++i)
      answer.tasks.emplace_back(jobs.size() - 1, i);
  } else {
    answer.reason = "no such plan was found in the rounds given, nor a proof that there is none";
  }
  return answer;
}

Result<RushAnswer> rush(const Shop& shop, const Running& running, const Job& job, Time by,
                        const PromiseOptions& options, const Context& context) {
  std::vector<Job> jobs = with(running, job);
  Job& urgent = jobs.back();
  urgent.promise = by;
  for (const Job& other : running.jobs) urgent.weight += 1000 * other.weight;
  ShopOptions search = options_of(options, &running.plan);
  auto made = plan_shop(shop, jobs, search, context);
  if (!made) return Failure(made.error());
  RushAnswer answer;
  const bool in_time = made->plan.back().end() <= by;
  if (in_time) {
    answer.urgent.fits = Fits::yes;
    answer.urgent.reason = format("{} ends {}", job.id, when(shop, made->plan.back().end()));
  } else {
    std::vector<Job> alone = jobs;
    for (std::size_t j = 0; j + 1 < alone.size(); ++j) alone[j].promise = kNever;
    if (auto shortage = find_shortage(shop, alone, options.now)) {
      answer.urgent.fits = Fits::no;
      answer.urgent.reason = std::move(shortage->reason);
      answer.urgent.tasks = std::move(shortage->tasks);
    } else {
      answer.urgent.reason =
          format("the best plan found ends {} at {}", job.id, when(shop, made->plan.back().end()));
    }
  }
  answer.urgent.plan = made->plan;
  answer.slips = slips_of(running, made->plan);
  if (in_time && answer.slips.empty()) return answer;

  Time until = by;
  for (const Slip& slip : answer.slips) {
    if (slip.after < kNever) until = std::max(until, slip.after);
  }
  search.iterations = options.iterations / 8;
  search.mending /= 8;
  // Each change has a plan of its own, so they are tried side by side.
  std::vector<Change> changes = changes_of(shop, options.now, until);
  std::vector<std::optional<Remedy>> tried(changes.size());
  const std::size_t lanes = context.executor().width();
  context.executor().run(lanes, [&](std::size_t lane) {
    for (std::size_t k = lane; k < changes.size() && !context.stopped(); k += lanes) {
      Change& change = changes[k];
      auto other = plan_shop(change.shop, jobs, search, context);
      if (!other) continue;
      Remedy remedy{std::move(change.text), slips_of(running, other->plan),
                    other->plan.back().end() <= by};
      const bool helps = (remedy.in_time && !in_time) ||
                         (remedy.in_time == in_time && remedy.left.size() < answer.slips.size());
      if (helps) tried[k] = std::move(remedy);
    }
  });
  for (auto& remedy : tried) {
    if (remedy) answer.remedies.push_back(std::move(*remedy));
  }
  std::stable_sort(answer.remedies.begin(), answer.remedies.end(),
                   [](const Remedy& a, const Remedy& b) {
                     return std::make_tuple(!a.in_time, a.left.size()) <
                            std::make_tuple(!b.in_time, b.left.size());
                   });
  return answer;
}

}  // namespace film::planning
