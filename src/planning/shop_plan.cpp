#include "planning/shop_plan.h"

#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

#include "base/rng.h"
#include "base/text.h"
#include "planning/detail/board.h"
#include "planning/detail/exact.h"
#include "planning/detail/mirror.h"

namespace film::planning {
namespace {

bool started(const Job& job) {
  return std::any_of(job.tasks.begin(), job.tasks.end(),
                     [](const ShopTask& task) { return task.fixed.has_value(); });
}

Span span_of(const JobPlan& plan) {
  Span span{kNever, 0};
  for (const Slot& slot : plan.slots) {
    span.from = std::min(span.from, slot.span.from);
    span.until = std::max(span.until, slot.span.until);
  }
  return span;
}

/// Large neighbourhood search on a board.
class Search {
 public:
  Search(const Shop& shop, const std::vector<Job>& jobs, const ShopOptions& options)
      : shop_(shop),
        jobs_(jobs),
        options_(options),
        board_(shop, jobs, options.now),
        rng_(options.seed) {
    for (const Job& job : jobs) started_.push_back(started(job));
  }

  void first_plan() {
    std::vector<std::size_t> open;
    for (std::size_t j = 0; j < jobs_.size(); ++j) open.push_back(j);
    const auto ahead = [this](std::size_t j) { return rank(j).second == 0; };
    std::sort(open.begin(), open.end(), [&](std::size_t a, std::size_t b) {
      return std::tuple(rank(a), jobs_[a].promise, jobs_[a].arrives, a) <
             std::tuple(rank(b), jobs_[b].promise, jobs_[b].arrives, b);
    });
    const auto keep = [&](auto which) {
      std::erase_if(open, [&](std::size_t j) {
        return which(j) && running(j) != nullptr && board_.keep(j, *running(j));
      });
    };
    if (options_.running != nullptr) {
      keep([&](std::size_t j) { return started_[j] != 0 && !ahead(j); });
      std::erase_if(open, [&](std::size_t j) { return ahead(j) && board_.place(j, 0); });
      keep([](std::size_t) { return true; });
    }
    for (const std::size_t j : open) {
      if (!board_.place(j, 0, nullptr, running(j)) && started_[j] != 0) make_room(j);
    }
    score_ = score_of(jobs_, board_.plan(), options_.running);
  }

  void round() {
    const std::vector<std::size_t> chosen = choose();
    std::vector<JobPlan> before;
    for (const std::size_t j : chosen) before.push_back(board_.plan()[j]);
    for (const std::size_t j : chosen) board_.remove(j);
    std::vector<std::size_t> order(chosen.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    // The one that the round is about goes first as often as not.
    if (rng_.uniform() < 0.5) {
      rng_.shuffle(order);
    }
    std::stable_partition(order.begin(), order.end(),
                          [&](std::size_t k) { return started_[chosen[k]]; });
    for (const std::size_t k : order) {
      const std::size_t j = chosen[k];
      const bool stays = running(j) != nullptr && rng_.uniform() < 0.7;
      if (stays && rng_.uniform() < 0.5) {
        board_.place(j, 0, nullptr, running(j));
        continue;
      }
      Rng* luck = rng_.uniform() < 0.4 ? &rng_ : nullptr;
      board_.place(j, delay(before[k]), luck, stays ? running(j) : nullptr);
    }
    keep_or_undo(chosen, before);
  }

  /// Double justification: all jobs stand as late as they can without any ending later, or after
  /// its promise where `to_promise`, then as soon as they can in the order in which they began
  /// there. Not against a running plan, of which nothing would stay.
  void justify(bool to_promise) {
    if (options_.running != nullptr || score_.unplanned > 0) return;
    const ShopPlan& plan = board_.plan();
    Time horizon = 0;
    for (const Person& person : shop_.people) {
      if (person.hours.spans().empty()) continue;
      horizon = std::max(horizon, person.hours.spans().back().until);
    }
    for (const JobPlan& one : plan) horizon = std::max(horizon, one.end());
    std::vector<std::size_t> order(jobs_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::vector<Job> mirror;
    for (const std::size_t j : order) {
      const bool later = to_promise && jobs_[j].promise < kNever;
      const Time end = later ? std::max(plan[j].end(), jobs_[j].promise) : plan[j].end();
      mirror.push_back(detail::mirrored(jobs_[j], horizon, std::min(end, horizon)));
    }
    const std::vector<std::size_t> all = order;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return plan[a].end() > plan[b].end(); });
    const Shop backwards = detail::mirrored(shop_, horizon);
    detail::Board late(backwards, mirror, 0);
    for (const std::size_t j : order) late.place(j, 0);
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return std::tuple(rank(a), -late.plan()[a].end(), a) <
             std::tuple(rank(b), -late.plan()[b].end(), b);
    });
    const std::vector<JobPlan> before = plan;
    for (const std::size_t j : all) board_.remove(j);
    for (const std::size_t j : order) board_.place(j, 0);
    keep_or_undo(all, before);
  }

  /// What moved and need not have goes back to where the running plan has it.
  void settle() {
    if (options_.running == nullptr) return;
    for (bool better = true; better;) {
      better = false;
      for (std::size_t j = 0; j < jobs_.size(); ++j) {
        if (running(j) == nullptr || board_.plan()[j] == *running(j)) continue;
        const JobPlan before = board_.plan()[j];
        board_.remove(j);
        board_.place(j, 0, nullptr, running(j));
        better = keep_or_undo({j}, {before}) || better;
      }
    }
  }

  /// Places jobs in trouble anew together with those around them, by trying every order: what
  /// rounds that lay one job after another never come to. True when the plan is better for it.
  bool mend(const Context& context) {
    bool better = false;
    std::int64_t work = options_.mending;
    for (const std::size_t j : troubled()) {
      if (work <= 0 || context.stopped()) break;
      if (board_.plan()[j].end() <= jobs_[j].promise) continue;  // mended with another
      std::vector<std::size_t> free = around(j);
      // Those that are late anyway stay where they are, or nothing could be found.
      std::erase_if(free, [&](std::size_t other) {
        return other != j && board_.plan()[other].end() > jobs_[other].promise;
      });
      auto exact = detail::place_exactly(shop_, jobs_, board_.plan(), free, options_.now, work);
      work -= exact.work;
      if (exact.outcome == detail::Exact::Outcome::found) {
        better = replace(free, exact.plans) || better;
      }
    }
    return better;
  }

  [[nodiscard]] const ShopPlan& plan() const { return board_.plan(); }
  [[nodiscard]] const Score& score() const { return score_; }

 private:
  /// Jobs that miss their promise, those that matter most first.
  std::vector<std::size_t> troubled() const {
    std::vector<std::size_t> jobs;
    for (std::size_t j = 0; j < jobs_.size(); ++j) {
      if (jobs_[j].promise < kNever && board_.plan()[j].end() > jobs_[j].promise) jobs.push_back(j);
    }
    std::stable_sort(jobs.begin(), jobs.end(), [this](std::size_t a, std::size_t b) {
      return jobs_[a].weight > jobs_[b].weight;
    });
    return jobs;
  }

  /// A job and those that could make room for it: in the shop before its promise, the last to go
  /// first, as many as can be searched through.
  std::vector<std::size_t> around(std::size_t job) const {
    static constexpr std::size_t kMostTasks = 60;
    std::vector<std::size_t> near;
    for (std::size_t j = 0; j < jobs_.size(); ++j) {
      const Span span = span_of(board_.plan()[j]);
      if (j != job && span.from < jobs_[job].promise && span.until > options_.now) {
        near.push_back(j);
      }
    }
    std::stable_sort(near.begin(), near.end(), [this](std::size_t a, std::size_t b) {
      return jobs_[a].promise > jobs_[b].promise;
    });
    std::vector<std::size_t> free{job};
    std::size_t tasks = jobs_[job].tasks.size();
    for (const std::size_t j : near) {
      if (tasks + jobs_[j].tasks.size() > kMostTasks) continue;
      tasks += jobs_[j].tasks.size();
      free.push_back(j);
    }
    return free;
  }

  /// Puts the jobs where `plans` has them, unless that makes the plan worse.
  bool replace(const std::vector<std::size_t>& jobs, const std::vector<JobPlan>& plans) {
    std::vector<JobPlan> before;
    for (const std::size_t j : jobs) before.push_back(board_.plan()[j]);
    for (const std::size_t j : jobs) board_.remove(j);
    for (std::size_t k = 0; k < jobs.size(); ++k) board_.put(jobs[k], plans[k]);
    return keep_or_undo(jobs, before);
  }

  /// Whether the plan is better for where these jobs stand now; when it is worse, they go back.
  bool keep_or_undo(const std::vector<std::size_t>& jobs, const std::vector<JobPlan>& before) {
    const Score now = score_of(jobs_, board_.plan(), options_.running);
    if (now <= score_) return std::exchange(score_, now) != now;
    for (const std::size_t j : jobs) board_.remove(j);
    for (std::size_t k = 0; k < jobs.size(); ++k) board_.put(jobs[k], before[k]);
    return false;
  }

  /// What has started, then what was asked to go first, then the rest.
  [[nodiscard]] std::pair<int, int> rank(std::size_t j) const {
    const auto& first = options_.first;
    const bool ahead = std::find(first.begin(), first.end(), j) != first.end();
    return {started_[j] != 0 ? 0 : 1, ahead ? 0 : 1};
  }

  /// Where the running plan has a job; null when it has not.
  [[nodiscard]] const JobPlan* running(std::size_t j) const {
    const ShopPlan* plan = options_.running;
    return plan != nullptr && j < plan->size() && !(*plan)[j].slots.empty() ? &(*plan)[j] : nullptr;
  }

  /// A job whose vehicle stands in its bay finds no room: those that come later make way.
  void make_room(std::size_t job) {
    std::vector<std::size_t> later;
    for (std::size_t j = 0; j < jobs_.size(); ++j) {
      if (started_[j] == 0 && !board_.plan()[j].slots.empty()) later.push_back(j);
    }
    std::stable_sort(later.begin(), later.end(), [this](std::size_t a, std::size_t b) {
      return span_of(board_.plan()[a]).from < span_of(board_.plan()[b]).from;
    });
    std::vector<std::size_t> off;
    for (const std::size_t j : later) {
      board_.remove(j);
      off.push_back(j);
      if (board_.place(job, 0, nullptr, running(job))) break;
    }
    for (const std::size_t j : off) {
      if (running(j) == nullptr || !board_.keep(j, *running(j))) {
        board_.place(j, 0, nullptr, running(j));
      }
    }
  }

  /// One job, more often one in trouble, and a few whose time it shares.
  std::vector<std::size_t> choose() {
    std::vector<std::size_t> trouble;
    for (std::size_t j = 0; j < jobs_.size(); ++j) {
      if (board_.plan()[j].end() > jobs_[j].promise) trouble.push_back(j);
    }
    std::vector<std::size_t> chosen{!trouble.empty() && rng_.uniform() < 0.6
                                        ? trouble[rng_.below(trouble.size())]
                                        : rng_.below(jobs_.size())};
    Span span = span_of(board_.plan()[chosen[0]]);
    if (span.from > span.until) span = {0, kNever};
    std::vector<std::size_t> near;
    for (std::size_t j = 0; j < jobs_.size(); ++j) {
      const bool sooner = !trouble.empty() && span_of(board_.plan()[j]).from <= span.until;
      if (j != chosen[0] && (sooner || span_of(board_.plan()[j]).meets(span))) near.push_back(j);
    }
    rng_.shuffle(near);
    near.resize(std::min(near.size(), rng_.below(4)));
    chosen.insert(chosen.end(), near.begin(), near.end());
    return chosen;
  }

  /// Mostly none; else up to the place it had, so that a bay is not held for a job that waits.
  Time delay(const JobPlan& before) {
    if (before.slots.empty() || rng_.uniform() < 0.7) return 0;
    const Span span = span_of(before);
    const Time slack = std::max(1, (span.until - span.from) / 2);
    return span.from + static_cast<Time>(rng_.below(static_cast<std::size_t>(slack)));
  }

  const Shop& shop_;
  const std::vector<Job>& jobs_;
  const ShopOptions& options_;
  detail::Board board_;
  Rng rng_;
  std::vector<char> started_;
  Score score_;
};

}  // namespace

Score score_of(const std::vector<Job>& jobs, const ShopPlan& plan, const ShopPlan* running) {
  Score score;
  for (std::size_t j = 0; j < jobs.size(); ++j) {
    if (plan[j].slots.empty()) {
      ++score.unplanned;
      continue;
    }
    const Time end = plan[j].end();
    if (end > jobs[j].promise) {
      score.broken += jobs[j].weight;
      score.lateness += jobs[j].weight * (end - jobs[j].promise);
    }
    if (running != nullptr && j < running->size() && !(*running)[j].slots.empty()) {
      const auto& old = (*running)[j].slots;
      for (std::size_t i = 0; i < plan[j].slots.size(); ++i) {
        if (i < old.size() && !jobs[j].tasks[i].fixed && !(old[i] == plan[j].slots[i])) {
          ++score.moved;
        }
      }
    }
    score.length += end;
    for (std::size_t k = 0; k < jobs[j].stages.size(); ++k) {
      const Span hold = hold_of(jobs[j], plan[j].slots, k);
      score.length += 0.25 * (hold.until - hold.from);
    }
  }
  return score;
}

Result<ShopAnswer> plan_shop(const Shop& shop, const std::vector<Job>& jobs,
                             const ShopOptions& options, const Context& context) {
  if (auto fault = fault_of(shop, jobs, options.now)) return Failure(*fault);
  ShopAnswer answer;
  Search search(shop, jobs, options);
  search.first_plan();
  if (!jobs.empty()) {
    if (options.iterations > 0 && !context.stopped()) {
      for (const bool to_promise : {false, true}) search.justify(to_promise);
    }
    while (answer.iterations < options.iterations && !context.stopped()) {
      search.round();
      ++answer.iterations;
    }
    // What was mended moved more than it must: some rounds more, always as many.
    if (search.mend(context)) {
      for (std::int64_t k = 0; k < answer.iterations / 4 && !context.stopped(); ++k) search.round();
    }
    if (answer.iterations > 0 && !context.stopped()) search.justify(false);
    search.settle();
  }
  answer.plan = search.plan();
  answer.score = search.score();
  for (std::size_t j = 0; j < jobs.size(); ++j) {
    if (answer.plan[j].slots.empty()) {
      answer.notes.push_back(format("{} found no room in the working time given", jobs[j].id));
    }
  }
  return answer;
}

}  // namespace film::planning
