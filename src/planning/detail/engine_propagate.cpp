#include <algorithm>

#include "planning/detail/engine.h"

namespace film::planning::detail {

bool Engine::raise(Side side, Time bound, Reason reason) {
  const auto s = static_cast<std::size_t>(side);
  if (bound <= bound_[s]) return true;
  if (bound + bound_[s ^ 1] > 0) {
    conflict_.clear();
    collect_reason({side, bound_[s], bound, last_[s], reason}, bound, conflict_);
    conflict_.push_back({side ^ 1, 1 - bound});
    return false;
  }
  trail_.push_back({side, bound_[s], bound, last_[s], reason});
  last_[s] = static_cast<std::int32_t>(trail_.size()) - 1;
  bound_[s] = bound;
  return true;
}

bool Engine::propagate() {
  while (true) {
    while (next_entry_ < trail_.size()) {
      const Entry entry = trail_[next_entry_++];
      work_ += 4;
      if (!propagate_links(entry) || !propagate_nogoods(entry)) return false;
      const auto x = static_cast<std::size_t>(entry.side / 2);
      if (x < instance_.tasks && !sync_part(x)) return false;
    }
    if (!filter_profile()) return false;
    if (next_entry_ == trail_.size()) return true;
  }
}

bool Engine::propagate_links(const Entry& entry) {
  const auto s = static_cast<std::size_t>(entry.side);
  work_ += static_cast<std::int64_t>(links_from_[s].size());
  for (const std::int32_t index : links_from_[s]) {
    if (!propagate_link(index)) return false;
  }
  for (const std::int32_t index : links_guarded_[s]) {
    if (!propagate_link(index)) return false;
  }
  return true;
}

bool Engine::propagate_link(std::int32_t index) {
  const Link& link = links_[static_cast<std::size_t>(index)];
  const Time pushed = bound_[static_cast<std::size_t>(link.from)] + link.least;
  if (link.guard.side < 0 || holds(link.guard)) {
    return raise(link.to, pushed, {Why::link, index, 0});
  }
  const Literal unguarded = opposite(link.guard);
  if (holds(unguarded) || pushed + bound_[static_cast<std::size_t>(link.to ^ 1)] <= 0) return true;
  // The link would push its target past its other bound, so its guard cannot hold.
  scratch_.clear();
  scratch_.push_back({link.from, pushed - link.least});
  scratch_.push_back({link.to ^ 1, 1 - pushed});
  return raise(unguarded.side, unguarded.bound, keep_literals());
}

bool Engine::propagate_nogoods(const Entry& entry) {
  std::vector<Watch>& watches = watches_[static_cast<std::size_t>(entry.side)];
  work_ += static_cast<std::int64_t>(watches.size()) / 4;
  std::size_t kept = 0;
  for (std::size_t k = 0; k < watches.size(); ++k) {
    const Watch watch = watches[k];
    watches[kept++] = watch;
    if (watch.bound > entry.new_bound || watch.bound <= entry.old_bound) continue;
    std::vector<Literal>& literals = nogoods_[static_cast<std::size_t>(watch.nogood)].literals;
    if (literals[0].side == entry.side) std::swap(literals[0], literals[1]);
    if (holds(opposite(literals[0]))) continue;
    std::size_t other = 2;
    while (other < literals.size() && holds(literals[other])) ++other;
    work_ += static_cast<std::int64_t>(other);
    if (other < literals.size()) {
      std::swap(literals[1], literals[other]);
      watches_[static_cast<std::size_t>(literals[1].side)].push_back(
          {literals[1].bound, watch.nogood});
      --kept;
      continue;
    }
    const Literal implied = opposite(literals[0]);
    if (!raise(implied.side, implied.bound, {Why::nogood, watch.nogood, 0})) {
      for (++k; k < watches.size(); ++k) watches[kept++] = watches[k];
      watches.resize(kept);
      return false;
    }
  }
  watches.resize(kept);
  return true;
}

Engine::Reason Engine::keep_literals() {
  const Reason reason{Why::literals, static_cast<std::int32_t>(reasons_.size()),
                      static_cast<std::int32_t>(scratch_.size())};
  reasons_.insert(reasons_.end(), scratch_.begin(), scratch_.end());
  return reason;
}

// Brings the profile up to the certain part of the task; on an overload it stays where it is.
bool Engine::sync_part(std::size_t task) {
  const Time begin = high(task);
  const Time end = low(task) + instance_.duration[task];
  if (begin >= end) return true;
  Time& from = part_begin_[task];
  Time& until = part_end_[task];
  if (from >= until) from = until = begin;
  const std::size_t words = instance_.words;
  const Packed* need = instance_.need_of(task);
  const auto take = [&](Time t) {
    Packed* free = &free_[static_cast<std::size_t>(t) * words];
    for (std::size_t w = 0; w < words; ++w) {
      if (!fits(free[w], need[w])) {
        scratch_.clear();
        explain_overload(t, instance_.tasks);
        conflict_ = scratch_;
        return false;
      }
    }
    for (std::size_t w = 0; w < words; ++w) free[w] -= need[w];
    return true;
  };
  work_ += (from - begin) + (end - until);
  while (until < end) {
    if (!take(until)) return false;
    ++until;
  }
  while (from > begin) {
    if (!take(from - 1)) return false;
    --from;
  }
  return true;
}

void Engine::shrink_part(std::size_t task) {
  Time begin = high(task);
  Time end = low(task) + instance_.duration[task];
  Time& from = part_begin_[task];
  Time& until = part_end_[task];
  if (begin >= end) begin = end = until;
  const std::size_t words = instance_.words;
  const Packed* need = instance_.need_of(task);
  const auto give = [&](Time t) {
    for (std::size_t w = 0; w < words; ++w) {
      free_[static_cast<std::size_t>(t) * words + w] += need[w];
    }
  };
  for (; from < begin && from < until; ++from) give(from);
  for (; until > end && from < until; --until) give(until - 1);
}

// The literals of scratch_ then force an overload at t, together with `spare` if it runs then.
void Engine::explain_overload(Time t, std::size_t spare) {
  for (std::size_t r = 0; r < users_.size(); ++r) {
    const Packed offered =
        instance_.free[static_cast<std::size_t>(t) * instance_.words + r / kLanes];
    int surplus = -lane_of(offered, r % kLanes) - 1;
    if (spare < instance_.tasks) {
      if (instance_.need_of(spare, r) == 0) continue;
      surplus += instance_.need_of(spare, r);
    }
    running_.clear();
    for (const std::size_t i : users_[r]) {
      if (i == spare || high(i) > t || low(i) + instance_.duration[i] <= t) continue;
      surplus += instance_.need_of(i, r);
      running_.push_back({std::max(last_[2 * i], last_[2 * i + 1]), i});
    }
    if (surplus < 0) continue;
    // What was learnt last is dropped first: the older the reason, the further the jump back.
    std::sort(running_.begin(), running_.end(),
              [](const auto& a, const auto& b) { return a.first > b.first; });
    for (const auto& [entry, i] : running_) {
      const int need = instance_.need_of(i, r);
      if (need <= surplus) {
        surplus -= need;
        continue;
      }
      const auto side = static_cast<Side>(2 * i);
      scratch_.push_back({side, t - instance_.duration[i] + 1});
      scratch_.push_back({side + 1, -t});
    }
    return;
  }
}

bool Engine::filter_profile() {
  for (std::size_t i = 0; i < instance_.tasks; ++i) {
    if (low(i) < high(i) && instance_.duration[i] > 0 && !filter_task(i)) return false;
  }
  return true;
}

bool Engine::filter_task(std::size_t task) {
  const std::size_t words = instance_.words;
  const Packed* need = instance_.need_of(task);
  const Time duration = instance_.duration[task];
  const auto side = static_cast<Side>(2 * task);
  const auto blocked = [&](Time t) {
    const Packed* free = &free_[static_cast<std::size_t>(t) * words];
    for (std::size_t w = 0; w < words; ++w) {
      if (!fits(free[w], need[w])) return true;
    }
    return false;
  };
  // Its own certain part [high, low + duration) is in the profile and never blocks it.
  while (true) {
    const Time from = low(task);
    Time t = std::min(from + duration, high(task)) - 1;
    work_ += 1 + (t - from) / 8;
    while (t >= from && !blocked(t)) --t;
    if (t < from) break;
    scratch_.clear();
    scratch_.push_back({side, t - duration + 1});
    explain_overload(t, task);
    if (!raise(side, t + 1, keep_literals())) return false;
  }
  while (true) {
    const Time until = high(task) + duration;
    Time t = std::max(high(task), low(task) + duration);
    while (t < until && !blocked(t)) ++t;
    if (t >= until) return true;
    scratch_.clear();
    scratch_.push_back({side + 1, -t});
    explain_overload(t, task);
    if (!raise(side + 1, duration - t, keep_literals())) return false;
  }
}

}  // namespace film::planning::detail
