#include "planning/solve.h"

#include <algorithm>
#include <memory>
#include <optional>

#include "base/text.h"
#include "planning/bounds.h"
#include "planning/detail/breed.h"
#include "planning/detail/closure.h"
#include "planning/detail/engine.h"
#include "planning/detail/instance.h"
#include "planning/detail/rebuild.h"
#include "planning/lags.h"

namespace film::planning {
namespace {

using detail::Breed;
using detail::Engine;
using detail::Instance;
using detail::Rebuild;

// Work of one lane in one round: some milliseconds, so that what one finds soon helps the other.
constexpr std::int64_t kProofWork = 600'000;
constexpr std::int64_t kPlacements = 200'000;
constexpr std::int64_t kRebuildWork = 200'000;

// Plans in the stock of the improving lane (many: slow to grow alike, good in the end) and of the
// proving lane while its proof stands still (fewer: quicker, and different).
constexpr std::size_t kStock = 300;
constexpr std::size_t kSecondStock = 150;
constexpr std::int64_t kPatience = 12;  // rounds without a better bound before the proof rests

std::string names_of(const Project& project, const std::vector<std::size_t>& tasks) {
  std::string text;
  for (const std::size_t i : tasks) {
    if (!text.empty()) text += ", ";
    text += project.tasks[i].id;
  }
  return text;
}

Plan impossible(std::string reason, std::vector<std::size_t> culprits) {
  Plan plan;
  plan.status = Status::infeasible;
  plan.reason = std::move(reason);
  plan.culprits = std::move(culprits);
  return plan;
}

std::optional<Plan> impossible_lags(const Project& project, const StartWindows& windows) {
  if (!windows.cycle.empty()) {
    return impossible(format("the lags round the tasks {} ask each to start after itself",
                             names_of(project, windows.cycle)),
                      windows.cycle);
  }
  if (!windows.closed.empty()) {
    return impossible(format("the lags along the tasks {} leave no time between the earliest start "
                             "of the first and the latest start of the last",
                             names_of(project, windows.closed)),
                      windows.closed);
  }
  return std::nullopt;
}

std::optional<Plan> impossible_need(const Project& project) {
  for (std::size_t i = 0; i < project.tasks.size(); ++i) {
    const Task& task = project.tasks[i];
    for (std::size_t r = 0; r < project.resources.size(); ++r) {
      if (task.duration > 0 && need_of(task, r) > project.resources[r].capacity) {
        return impossible(
            format("task {} needs {} of resource {}, which has {}", task.id, need_of(task, r),
                   project.resources[r].id, project.resources[r].capacity),
            {i});
      }
    }
  }
  return std::nullopt;
}

// One search with its two lanes. Every round both work on what is known at its start.
class Search {
 public:
  Search(const Project& project, const Instance& instance, const std::vector<Engine::Tie>& forced,
         Time lower, const Options& options)
      : project_(project),
        lower_(lower),
        engine_(instance, forced, options.seed),
        rebuild_(instance, options.seed + 1) {
    if (instance.forward_only) {
      breed_ = std::make_unique<Breed>(instance, kStock, options.seed + 2);
      second_breed_ = std::make_unique<Breed>(instance, kSecondStock, options.seed + 4);
      accept(breed_->best());
    } else {
      second_ = std::make_unique<Engine>(instance, forced, options.seed + 3);
    }
  }

  [[nodiscard]] bool done() const { return proven_ || (!best_.empty() && lower_ >= end_); }

  void round(const Context& context) {
    std::optional<std::vector<Time>> proof_plan;
    std::optional<std::vector<Time>> other_plan;
    context.executor().run(2, [&](std::size_t lane) {
      if (lane == 0) {
        proof_plan = prove(context);
      } else {
        other_plan = improve(context);
      }
    });
    proven_ = proof_ends_;
    if (proof_plan) accept(*proof_plan);
    if (other_plan) accept(*other_plan);
    if (engine_.lower_bound() > lower_) {
      lower_ = engine_.lower_bound();
      raised_at_ = rounds_;
    }
    ++rounds_;
  }

  [[nodiscard]] std::int64_t rounds() const { return rounds_; }

  [[nodiscard]] Plan plan() const {
    Plan plan;
    plan.iterations = rounds_;
    if (best_.empty()) {
      plan.lower_bound = lower_;
      plan.status = proven_ ? Status::infeasible : Status::unknown;
      plan.reason = proven_ ? format(
                                  "every start of every task was ruled out ({} dead ends "
                                  "explained); no plan exists",
                                  conflicts())
                            : "neither a plan nor a proof that there is none was found in the time "
                              "given; this is not a no";
      return plan;
    }
    plan.starts = best_;
    plan.makespan = end_;
    plan.lower_bound = proven_ ? end_ : std::min(lower_, end_);
    plan.status = plan.lower_bound == end_ ? Status::optimal : Status::feasible;
    plan.reason =
        plan.status == Status::optimal
            ? format("no plan ends before {}: proven ({} dead ends explained)", end_, conflicts())
            : format(
                  "no plan ends before {}: proven; between {} and {} the search is "
                  "open",
                  plan.lower_bound, plan.lower_bound, end_);
    return plan;
  }

 private:
  [[nodiscard]] std::int64_t conflicts() const {
    return engine_.conflicts() + (second_ ? second_->conflicts() : 0);
  }

  // A proof that has stood still far below the plan gets every fourth round only.
  [[nodiscard]] bool proof_rests() const {
    return second_breed_ && rounds_ - raised_at_ > kPatience && end_ - lower_ > 1 + end_ / 50 &&
           rounds_ % 4 != 0;
  }

  std::optional<std::vector<Time>> prove(const Context& context) {
    if (proof_rests()) {
      second_breed_->run(kPlacements, lower_, context);
      return second_breed_->best();
    }
    const bool hopeful = rounds_ % 8 < 4;
    const Engine::Outcome outcome = engine_.search(kProofWork, hopeful, context);
    if (outcome == Engine::Outcome::exhausted) proof_ends_ = true;
    if (outcome == Engine::Outcome::solved) return engine_.starts();
    return std::nullopt;
  }

  std::optional<std::vector<Time>> improve(const Context& context) {
    if (!breed_) {
      if (second_->search(kProofWork, false, context) == Engine::Outcome::solved) {
        return second_->starts();
      }
      return std::nullopt;
    }
    if (rounds_ % 2 == 0 || breed_->stale() < kPlacements * kPatience) {
      breed_->run(kPlacements, lower_, context);
      return breed_->best();
    }
    for (int k = 0; k < 4; ++k) {
      if (auto found = rebuild_.attempt(best_, end_, kRebuildWork, context)) return found;
    }
    return std::nullopt;
  }

  void accept(const std::vector<Time>& starts) {
    const Time end = makespan_of(project_, starts);
    if (!best_.empty() && end >= end_) return;
    best_ = starts;
    end_ = end;
    engine_.limit_end(end - 1);
    engine_.follow(best_);
    if (second_) {
      second_->limit_end(end - 1);
      second_->follow(best_);
    }
    for (Breed* breed : {breed_.get(), second_breed_.get()}) {
      if (breed != nullptr && breed->best_end() > end) breed->adopt(best_);
    }
  }

  const Project& project_;
  Time lower_ = 0;
  Engine engine_;
  Rebuild rebuild_;
  std::unique_ptr<Breed> breed_;
  std::unique_ptr<Breed> second_breed_;
  std::unique_ptr<Engine> second_;
  std::vector<Time> best_;
  Time end_ = kNever;
  bool proof_ends_ = false;
  bool proven_ = false;
  std::int64_t rounds_ = 0;
  std::int64_t raised_at_ = 0;  // the round that last raised the proven bound
};

}  // namespace

Result<Plan> solve(const Project& project, const Options& options, const Context& context) {
  if (auto error = fault_of(project)) return Failure(std::move(*error));
  if (project.tasks.empty()) {
    Plan nothing;
    nothing.status = Status::optimal;
    nothing.reason = "there is nothing to do";
    return nothing;
  }
  const StartWindows windows = start_windows(project);
  if (auto plan = impossible_lags(project, windows)) return *plan;
  if (auto plan = impossible_need(project)) return *plan;
  Instance instance = detail::instance_of(project, windows);
  detail::Closure closure = detail::closure_of(instance);
  if (!closure.contradiction.empty()) {
    return impossible(format("tasks {} cannot run at the same time, and the lags leave no room for "
                             "either order",
                             names_of(project, closure.contradiction)),
                      closure.contradiction);
  }
  instance.exclusive = std::move(closure.open);
  std::vector<Engine::Tie> forced;
  for (const auto& [first, second] : closure.forced) {
    forced.push_back({first, second, instance.duration[first]});
  }
  Search search(project, instance, forced, lower_bound(project, windows).end, options);
  while (!search.done() && search.rounds() < options.iterations && !context.stopped()) {
    search.round(context);
    context.report("planning", -1);
  }
  return search.plan();
}

}  // namespace film::planning
