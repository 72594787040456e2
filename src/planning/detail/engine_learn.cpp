#include <algorithm>
#include <limits>

#include "planning/detail/engine.h"

namespace film::planning::detail {
namespace {

constexpr Time kUnset = std::numeric_limits<Time>::min();
constexpr double kAtomDecay = 1 / 0.95;
constexpr float kNogoodDecay = 1 / 0.999F;

}  // namespace

// Literals that together imply [entry.side >= needed].
void Engine::collect_reason(const Entry& entry, Time needed, std::vector<Literal>& out) const {
  switch (entry.reason.why) {
    case Why::decision: return;
    case Why::nogood: {
      const auto& literals = nogoods_[static_cast<std::size_t>(entry.reason.first)].literals;
      out.insert(out.end(), literals.begin() + 1, literals.end());
      return;
    }
    case Why::link: {
      const Link& link = links_[static_cast<std::size_t>(entry.reason.first)];
      out.push_back({link.from, needed - link.least});
      if (link.guard.side >= 0) out.push_back(link.guard);
      return;
    }
    case Why::literals: {
      const auto begin = reasons_.begin() + entry.reason.first;
      out.insert(out.end(), begin, begin + entry.reason.count);
      return;
    }
  }
}

std::int32_t Engine::entry_making(Literal l) const {
  std::int32_t at = last_[static_cast<std::size_t>(l.side)];
  while (at >= 0 && trail_[static_cast<std::size_t>(at)].old_bound >= l.bound) {
    at = trail_[static_cast<std::size_t>(at)].previous;
  }
  return at;
}

std::int32_t Engine::level_of(std::int32_t entry) const {
  if (entry < 0) return 0;
  const auto it =
      std::upper_bound(level_begin_.begin(), level_begin_.end(), static_cast<std::size_t>(entry));
  return static_cast<std::int32_t>(it - level_begin_.begin());
}

void Engine::require(Literal l) {
  const std::int32_t entry = entry_making(l);
  if (entry < static_cast<std::int32_t>(level_begin_.front())) return;  // holds at the root
  const auto level_start = static_cast<std::int32_t>(level_begin_.back());
  Time& needed = needed_[static_cast<std::size_t>(l.side)];
  if (needed >= l.bound) return;
  if (needed == kUnset) {
    needed_sides_.push_back(l.side);
  } else if (entry_making({l.side, needed}) >= level_start) {
    --at_level_;
  }
  needed = l.bound;
  if (entry >= level_start) ++at_level_;
}

bool Engine::resolve_conflict() {
  ++conflicts_;
  std::int32_t level = 0;
  for (const Literal l : conflict_) level = std::max(level, level_of(entry_making(l)));
  if (level == 0) return false;
  undo_to(static_cast<std::size_t>(level));
  at_level_ = 0;
  needed_sides_.clear();
  for (const Literal l : conflict_) require(l);

  learnt_.clear();
  for (std::size_t at = trail_.size(); learnt_.empty();) {
    const Entry& entry = trail_[--at];
    Time& needed = needed_[static_cast<std::size_t>(entry.side)];
    if (needed == kUnset || needed <= entry.old_bound || needed > entry.new_bound) continue;
    if (at_level_ == 1) {
      learnt_.push_back({entry.side, needed});
      break;
    }
    const Time bound = needed;
    needed = kUnset;
    --at_level_;
    if (entry.reason.why == Why::nogood) {
      nogoods_[static_cast<std::size_t>(entry.reason.first)].activity += nogood_step_;
    }
    scratch_.clear();
    collect_reason(entry, bound, scratch_);
    work_ += static_cast<std::int64_t>(scratch_.size()) + 2;
    for (const Literal l : scratch_) require(l);
  }
  for (const Side side : needed_sides_) {
    Time& needed = needed_[static_cast<std::size_t>(side)];
    if (needed != kUnset && side != learnt_.front().side && !is_implied({side, needed})) {
      learnt_.push_back({side, needed});
    }
  }
  for (const Side side : needed_sides_) needed_[static_cast<std::size_t>(side)] = kUnset;
  learn();
  return true;
}

// Whether the other needed literals, all of them older, already imply this one.
bool Engine::is_implied(Literal l) {
  const std::int32_t at = entry_making(l);
  const Entry& entry = trail_[static_cast<std::size_t>(at)];
  if (entry.reason.why == Why::decision) return false;
  scratch_.clear();
  collect_reason(entry, l.bound, scratch_);
  for (const Literal reason : scratch_) {
    const std::int32_t made = entry_making(reason);
    if (made < static_cast<std::int32_t>(level_begin_.front())) continue;
    const Time needed = needed_[static_cast<std::size_t>(reason.side)];
    if (needed < reason.bound || entry_making({reason.side, needed}) >= at) return false;
  }
  return true;
}

void Engine::learn() {
  std::int32_t back = 0;
  levels_.clear();
  for (std::size_t k = 1; k < learnt_.size(); ++k) {
    const std::int32_t level = level_of(entry_making(learnt_[k]));
    levels_.push_back(level);
    if (level > back) {
      back = level;
      std::swap(learnt_[1], learnt_[k]);
    }
  }
  std::sort(levels_.begin(), levels_.end());
  const auto distinct = std::unique(levels_.begin(), levels_.end()) - levels_.begin();
  for (const Literal l : learnt_) bump(l);
  atom_step_ *= kAtomDecay;
  nogood_step_ *= kNogoodDecay;
  undo_to(static_cast<std::size_t>(back));
  const Literal implied = opposite(learnt_.front());
  if (learnt_.size() == 1) {
    if (!raise(implied.side, implied.bound, {})) closed_ = true;
    return;
  }
  const auto index = static_cast<std::int32_t>(nogoods_.size());
  nogoods_.push_back({learnt_, nogood_step_, static_cast<std::int32_t>(distinct)});
  watch(index);
  if (!raise(implied.side, implied.bound, {Why::nogood, index, 0})) closed_ = true;
}

void Engine::watch(std::int32_t index) {
  const auto& literals = nogoods_[static_cast<std::size_t>(index)].literals;
  for (std::size_t k = 0; k < 2; ++k) {
    watches_[static_cast<std::size_t>(literals[k].side)].push_back({literals[k].bound, index});
  }
}

// Only at the root, where no nogood is the reason of anything that analysis looks at.
void Engine::forget_nogoods() {
  if (nogood_step_ > 1e20F) {
    for (Nogood& nogood : nogoods_) nogood.activity *= 1e-20F;
    nogood_step_ *= 1e-20F;
  }
  if (nogoods_.size() < most_nogoods_) return;
  std::vector<float> activities;
  for (const Nogood& nogood : nogoods_) {
    if (nogood.levels > 2) activities.push_back(nogood.activity);
  }
  most_nogoods_ += most_nogoods_ / 10;
  if (activities.empty()) return;
  const auto middle = activities.begin() + static_cast<std::ptrdiff_t>(activities.size() / 2);
  std::nth_element(activities.begin(), middle, activities.end());
  const float least = *middle;
  std::vector<Nogood> kept;
  for (Nogood& nogood : nogoods_) {
    bool spent = nogood.levels > 2 && nogood.activity < least;
    for (const Literal l : nogood.literals) spent = spent || holds(opposite(l));
    if (!spent) kept.push_back(std::move(nogood));
  }
  nogoods_ = std::move(kept);
  for (auto& list : watches_) list.clear();
  for (std::size_t k = 0; k < nogoods_.size(); ++k) watch(static_cast<std::int32_t>(k));
}

void Engine::bump(Literal l) {
  const std::int32_t variable = l.side / 2;
  const Time value = l.side % 2 == 0 ? l.bound : 1 - l.bound;
  const std::uint64_t key =
      (static_cast<std::uint64_t>(static_cast<std::uint32_t>(variable)) << 32) |
      static_cast<std::uint32_t>(value);
  const auto [found, fresh] =
      atom_index_.try_emplace(key, static_cast<std::int32_t>(atoms_.size()));
  if (fresh) {
    atoms_.push_back({variable, value, 0, -1});
    heap_insert(found->second);
  }
  Atom& atom = atoms_[static_cast<std::size_t>(found->second)];
  atom.activity += atom_step_;
  if (atom.activity > 1e100) {
    for (Atom& each : atoms_) each.activity *= 1e-100;
    atom_step_ *= 1e-100;
  }
  if (atom.place >= 0) heap_up(atom.place);
}

void Engine::heap_insert(std::int32_t index) {
  Atom& atom = atoms_[static_cast<std::size_t>(index)];
  if (atom.place >= 0) return;
  atom.place = static_cast<std::int32_t>(heap_.size());
  heap_.push_back(index);
  heap_up(atom.place);
}

void Engine::heap_up(std::int32_t place) {
  const std::int32_t index = heap_[static_cast<std::size_t>(place)];
  const double activity = atoms_[static_cast<std::size_t>(index)].activity;
  while (place > 0) {
    const std::int32_t parent = (place - 1) / 2;
    const std::int32_t above = heap_[static_cast<std::size_t>(parent)];
    if (atoms_[static_cast<std::size_t>(above)].activity >= activity) break;
    heap_[static_cast<std::size_t>(place)] = above;
    atoms_[static_cast<std::size_t>(above)].place = place;
    place = parent;
  }
  heap_[static_cast<std::size_t>(place)] = index;
  atoms_[static_cast<std::size_t>(index)].place = place;
}

std::int32_t Engine::heap_pop() {
  const std::int32_t top = heap_.front();
  atoms_[static_cast<std::size_t>(top)].place = -1;
  const std::int32_t index = heap_.back();
  heap_.pop_back();
  if (heap_.empty()) return top;
  const auto size = static_cast<std::int32_t>(heap_.size());
  const double activity = atoms_[static_cast<std::size_t>(index)].activity;
  const auto activity_at = [&](std::int32_t place) {
    return atoms_[static_cast<std::size_t>(heap_[static_cast<std::size_t>(place)])].activity;
  };
  std::int32_t place = 0;
  while (2 * place + 1 < size) {
    std::int32_t child = 2 * place + 1;
    if (child + 1 < size && activity_at(child + 1) > activity_at(child)) ++child;
    if (activity_at(child) <= activity) break;
    const std::int32_t below = heap_[static_cast<std::size_t>(child)];
    heap_[static_cast<std::size_t>(place)] = below;
    atoms_[static_cast<std::size_t>(below)].place = place;
    place = child;
  }
  heap_[static_cast<std::size_t>(place)] = index;
  atoms_[static_cast<std::size_t>(index)].place = place;
  return top;
}

}  // namespace film::planning::detail
