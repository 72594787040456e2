#include "planning/detail/breed.h"

#include <algorithm>

namespace film::planning::detail {

Breed::Breed(const Instance& instance, std::size_t stock_size, std::uint64_t seed)
    : instance_(instance),
      stock_size_(stock_size),
      serial_(instance),
      rng_(seed),
      tail_(instance.tasks) {
  for (std::size_t k = instance.order.size(); k-- > 0;) {
    const std::size_t i = instance.order[k];
    tail_[i] = instance.duration[i];
    for (const Arc& arc : instance.after[i]) {
      tail_[i] = std::max(tail_[i], arc.least + tail_[arc.to]);
    }
  }
  seed_member();
}

void Breed::run(std::int64_t placements, Time goal, const Context& context) {
  const std::int64_t until = serial_.placed() + placements;
  Member child;
  while (serial_.placed() < until && best_end_ > goal && !context.stopped()) {
    if (stock_.size() < stock_size_) {
      seed_member();
      continue;
    }
    child.order.resize(instance_.tasks);
    cross(pick(), pick(), child.order);
    disturb(child.order);
    child.end = serial_.forward(child.order, child.starts);
    settle(child);
  }
}

void Breed::seed_member() {
  Member member;
  member.order.resize(instance_.tasks);
  sample(member.order);
  member.end = serial_.forward(member.order, member.starts);
  settle(std::move(member));
}

void Breed::adopt(const std::vector<Time>& starts) {
  Member member;
  member.order.resize(instance_.tasks);
  member.starts = starts;
  settle(std::move(member));
}

void Breed::settle(Member member) {
  member.end = serial_.justify(member.order, member.starts);
  member.sum = 0;
  for (const Time start : member.starts) member.sum += start;
  if (member.end < best_end_) {
    best_end_ = member.end;
    best_ = member.starts;
    fresh_at_ = serial_.placed();
  }
  for (const Member& other : stock_) {
    if (other.end == member.end && other.sum == member.sum) return;
  }
  if (stock_.size() < stock_size_) {
    stock_.push_back(std::move(member));
    return;
  }
  const auto worst = std::max_element(stock_.begin(), stock_.end(), better);
  if (better(member, *worst)) *worst = std::move(member);
  // A stock grown alike breeds nothing new: keep a few and start again.
  if (stale() > static_cast<std::int64_t>(instance_.tasks * stock_size_) * 150) {
    std::sort(stock_.begin(), stock_.end(), better);
    stock_.resize(1);
    if (stock_.front().end == best_end_ && rng_.below(2) == 0) stock_.clear();
    fresh_at_ = serial_.placed();
  }
}

const Breed::Member& Breed::pick() {
  const Member& a = stock_[rng_.below(stock_.size())];
  const Member& b = stock_[rng_.below(stock_.size())];
  return better(a, b) ? a : b;
}

// The middle of the father's order between two cuts of the mother's.
void Breed::cross(const Member& mother, const Member& father, std::vector<std::size_t>& child) {
  const std::size_t n = instance_.tasks;
  std::size_t first = rng_.below(n + 1);
  std::size_t second = rng_.below(n + 1);
  if (first > second) std::swap(first, second);
  used_.assign(n, false);
  std::size_t filled = 0;
  const auto take_from = [&](const std::vector<std::size_t>& order, std::size_t until) {
    for (std::size_t k = 0; filled < until; ++k) {
      if (used_[order[k]]) continue;
      used_[order[k]] = true;
      child[filled++] = order[k];
    }
  };
  take_from(mother.order, first);
  take_from(father.order, second);
  take_from(mother.order, n);
}

bool Breed::linked(std::size_t before, std::size_t after) const {
  for (const Arc& arc : instance_.after[before]) {
    if (arc.to == after) return true;
  }
  return false;
}

void Breed::disturb(std::vector<std::size_t>& order) {
  constexpr double kSwap = 0.03;
  for (std::size_t k = 0; k + 1 < order.size(); ++k) {
    if (rng_.uniform() < kSwap && !linked(order[k], order[k + 1])) {
      std::swap(order[k], order[k + 1]);
    }
  }
}

// Among the tasks that may come next, those with much behind them come sooner, by chance.
void Breed::sample(std::vector<std::size_t>& order) {
  std::vector<std::size_t> waiting(instance_.tasks, 0);
  std::vector<std::size_t> ready;
  for (std::size_t i = 0; i < instance_.tasks; ++i) {
    waiting[i] = instance_.before[i].size();
    if (waiting[i] == 0) ready.push_back(i);
  }
  std::vector<double> chance;
  for (std::size_t& next : order) {
    Time least = kNever;
    for (const std::size_t i : ready) least = std::min(least, tail_[i]);
    chance.clear();
    double sum = 0;
    for (const std::size_t i : ready) {
      const double regret = tail_[i] - least + 1;
      chance.push_back(regret * regret);
      sum += chance.back();
    }
    double draw = rng_.uniform() * sum;
    std::size_t k = 0;
    while (k + 1 < ready.size() && draw >= chance[k]) draw -= chance[k++];
    next = ready[k];
    ready[k] = ready.back();
    ready.pop_back();
    for (const Arc& arc : instance_.after[next]) {
      if (--waiting[arc.to] == 0) ready.push_back(arc.to);
    }
  }
}

}  // namespace film::planning::detail
