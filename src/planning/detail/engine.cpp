#include "planning/detail/engine.h"

#include <algorithm>

namespace film::planning::detail {
namespace {

constexpr Time kUnset = std::numeric_limits<Time>::min();
constexpr std::int64_t kRestartUnit = 100;  // conflicts; times the Luby sequence

// 1 1 2 1 1 2 4 ... Source: M. Luby, A. Sinclair, D. Zuckerman, "Optimal speedup of Las Vegas
// algorithms", Information Processing Letters 47, 1993.
std::int64_t luby(std::int64_t i) {
  std::int64_t size = 1;
  while (size < i + 1) size = 2 * size + 1;
  while (size - 1 != i) {
    size = (size - 1) / 2;
    i %= size;
  }
  std::int64_t power = 1;
  while (size > 1) {
    size = (size - 1) / 2;
    power *= 2;
  }
  return power;
}

}  // namespace

Engine::Engine(const Instance& instance, const std::vector<Tie>& ties, std::uint64_t seed)
    : instance_(instance), rng_(seed) {
  const std::size_t n = instance.tasks;
  for (std::size_t i = 0; i < n; ++i) new_variable(instance.earliest[i], instance.latest[i]);
  end_ = static_cast<std::size_t>(new_variable(0, instance.horizon));
  for (std::size_t i = 0; i < n; ++i) {
    link_starts(i, end_, instance.duration[i]);
    for (const Arc& arc : instance.after[i]) link_starts(i, arc.to, arc.least);
  }
  for (const Tie& tie : ties) link_starts(tie.from, tie.to, tie.least);
  order_excluding_pairs();

  free_ = instance.free;
  part_begin_.assign(n, 0);
  part_end_.assign(n, 0);
  users_.resize(instance.words * kLanes);
  for (std::size_t i = 0; i < n; ++i) {
    if (instance.duration[i] == 0) continue;
    for (std::size_t r = 0; r < users_.size(); ++r) {
      if (instance.need_of(i, r) > 0) users_[r].push_back(i);
    }
  }
  needed_.assign(bound_.size(), kUnset);
  wish_.assign(last_.size() / 2, kUnset);
  for (std::size_t i = 0; i < n; ++i) {
    if (low(i) > high(i)) closed_ = true;
  }
  for (std::size_t i = 0; i < n && !closed_; ++i) {
    if (!sync_part(i)) closed_ = true;
  }
  for (std::size_t k = 0; k < links_.size() && !closed_; ++k) {
    if (!propagate_link(static_cast<std::int32_t>(k))) closed_ = true;
  }
  if (!closed_ && !propagate()) closed_ = true;
  root_bound_ = low(end_);
}

std::int32_t Engine::new_variable(Time low, Time high) {
  bound_.push_back(low);
  bound_.push_back(-high);
  last_.insert(last_.end(), 2, -1);
  links_from_.resize(bound_.size());
  links_guarded_.resize(bound_.size());
  watches_.resize(bound_.size());
  return static_cast<std::int32_t>(bound_.size() / 2) - 1;
}

void Engine::add_link(const Link& link) {
  const auto index = static_cast<std::int32_t>(links_.size());
  links_.push_back(link);
  links_from_[static_cast<std::size_t>(link.from)].push_back(index);
  if (link.guard.side >= 0) {
    links_guarded_[static_cast<std::size_t>(link.guard.side)].push_back(index);
  }
}

void Engine::link_starts(std::size_t from, std::size_t to, Time least, Literal guard) {
  const auto a = static_cast<Side>(2 * from);
  const auto b = static_cast<Side>(2 * to);
  add_link({a, b, least, guard});
  add_link({b + 1, a + 1, least, guard});
}

void Engine::order_excluding_pairs() {
  for (const auto& [a, b] : instance_.exclusive) {
    const std::int32_t order = new_variable(0, 1);
    link_starts(a, b, instance_.duration[a], {2 * order, 1});
    link_starts(b, a, instance_.duration[b], {2 * order + 1, 0});
  }
}

void Engine::limit_end(Time end) {
  undo_to(0);
  if (!closed_ && !raise(static_cast<Side>(2 * end_ + 1), -end, {})) closed_ = true;
}

void Engine::follow(const std::vector<Time>& starts) {
  for (std::size_t i = 0; i < instance_.tasks; ++i) wish_[i] = starts[i];
  for (std::size_t k = 0; k < instance_.exclusive.size(); ++k) {
    const auto& [a, b] = instance_.exclusive[k];
    wish_[end_ + 1 + k] = starts[a] <= starts[b] ? 1 : 0;
  }
}

Engine::Outcome Engine::search(std::int64_t work, bool hopeful, const Context& context) {
  undo_to(0);
  work_ = 0;
  std::int64_t until_restart = kRestartUnit * luby(restarts_++);
  for (std::int64_t step = 0;; ++step) {
    if (closed_) return Outcome::exhausted;
    if (!propagate()) {
      if (!resolve_conflict()) {
        closed_ = true;
        return Outcome::exhausted;
      }
      --until_restart;
      continue;
    }
    if (level_begin_.empty()) root_bound_ = std::max(root_bound_, low(end_));
    if (work_ > work || (step % 32 == 0 && context.stopped())) {
      undo_to(0);
      return Outcome::paused;
    }
    if (until_restart <= 0) {
      undo_to(0);
      forget_nogoods();
      until_restart = kRestartUnit * luby(restarts_++);
      continue;
    }
    if (!decide(hopeful)) {
      keep_solution();
      undo_to(0);
      return Outcome::solved;
    }
  }
}

void Engine::keep_solution() {
  solution_.resize(instance_.tasks);
  for (std::size_t i = 0; i < instance_.tasks; ++i) solution_[i] = low(i);
  follow(solution_);
}

bool Engine::decide(bool hopeful) {
  work_ += 20;
  if (hopeful && level_begin_.empty() && low(end_) < high(end_)) {
    begin_level({static_cast<Side>(2 * end_ + 1), -low(end_)});
    return true;
  }
  if (restarts_ % 4 != 1 && decide_on_atom()) return true;
  return decide_on_start();
}

// The start that can come first comes first, as a schedule is generated.
bool Engine::decide_on_start() {
  std::size_t best = instance_.tasks;
  for (std::size_t i = 0; i < instance_.tasks; ++i) {
    if (low(i) == high(i)) continue;
    if (best == instance_.tasks || low(i) < low(best) ||
        (low(i) == low(best) && high(i) < high(best))) {
      best = i;
    }
  }
  if (best == instance_.tasks) {
    for (std::size_t x = instance_.tasks; x < bound_.size() / 2; ++x) {
      if (low(x) == high(x)) continue;
      begin_level({static_cast<Side>(2 * x + 1), -low(x)});
      return true;
    }
    return false;
  }
  begin_level({static_cast<Side>(2 * best + 1), -low(best)});
  return true;
}

bool Engine::decide_on_atom() {
  while (!heap_.empty()) {
    const std::int32_t index = heap_pop();
    popped_.emplace_back(level_begin_.size(), index);
    const Atom& atom = atoms_[static_cast<std::size_t>(index)];
    const auto x = static_cast<std::size_t>(atom.variable);
    if (low(x) >= atom.value || high(x) < atom.value) continue;
    const bool above = wish_[x] != kUnset && wish_[x] >= atom.value;
    const Literal literal{2 * atom.variable, atom.value};
    begin_level(above ? literal : opposite(literal));
    return true;
  }
  return false;
}

void Engine::begin_level(Literal decision) {
  level_begin_.push_back(trail_.size());
  raise(decision.side, decision.bound, {});
}

void Engine::undo_to(std::size_t level) {
  if (level >= level_begin_.size()) return;
  const std::size_t keep = level_begin_[level];
  touched_.clear();
  while (trail_.size() > keep) {
    const Entry& entry = trail_.back();
    bound_[static_cast<std::size_t>(entry.side)] = entry.old_bound;
    last_[static_cast<std::size_t>(entry.side)] = entry.previous;
    if (entry.reason.why == Why::literals) {
      reasons_.resize(static_cast<std::size_t>(entry.reason.first));
    }
    const auto x = static_cast<std::size_t>(entry.side / 2);
    if (x < instance_.tasks) touched_.push_back(x);
    trail_.pop_back();
  }
  for (const std::size_t task : touched_) shrink_part(task);
  level_begin_.resize(level);
  next_entry_ = trail_.size();
  // A decision made at level l was popped when l levels existed.
  while (!popped_.empty() && popped_.back().first >= level) {
    heap_insert(popped_.back().second);
    popped_.pop_back();
  }
}

}  // namespace film::planning::detail
