#include "planning/detail/rebuild.h"

#include <algorithm>

#include "planning/detail/engine.h"

namespace film::planning::detail {
namespace {

bool share_resource(const Instance& instance, std::size_t a, std::size_t b) {
  for (std::size_t r = 0; r < instance.words * kLanes; ++r) {
    if (instance.need_of(a, r) > 0 && instance.need_of(b, r) > 0) return true;
  }
  return false;
}

}  // namespace

Rebuild::Rebuild(const Instance& instance, std::uint64_t seed)
    : instance_(instance), rng_(seed), loose_(instance.tasks) {}

void Rebuild::choose_loose(const std::vector<Time>& starts, Time end) {
  const double span = share_ * static_cast<double>(end);
  const double from = rng_.uniform(-span / 2, static_cast<double>(end) - span / 2);
  for (std::size_t i = 0; i < instance_.tasks; ++i) {
    const double start = starts[i];
    const double finish = start + instance_.duration[i];
    loose_[i] = finish > from && start < from + span;
  }
}

std::optional<std::vector<Time>> Rebuild::attempt(const std::vector<Time>& starts, Time end,
                                                  std::int64_t work, const Context& context) {
  choose_loose(starts, end);
  std::vector<Engine::Tie> ties;
  constexpr Time kNear = 12;  // ties to tasks that follow closely; the rest follows from them
  for (std::size_t i = 0; i < instance_.tasks; ++i) {
    if (loose_[i] || instance_.duration[i] == 0) continue;
    const Time finish = starts[i] + instance_.duration[i];
    for (std::size_t j = 0; j < instance_.tasks; ++j) {
      if (loose_[j] || starts[j] < finish || starts[j] > finish + kNear) continue;
      if (share_resource(instance_, i, j)) ties.push_back({i, j, instance_.duration[i]});
    }
  }
  Engine engine(instance_, ties, rng_.next());
  engine.limit_end(end - 1);
  engine.follow(starts);
  const Engine::Outcome outcome = engine.search(work, false, context);
  // Proven useless quickly: take more apart next time; too large to decide: less.
  if (outcome == Engine::Outcome::exhausted) share_ = std::min(1.0, share_ * 1.03);
  if (outcome == Engine::Outcome::paused) share_ = std::max(0.05, share_ * 0.97);
  if (outcome != Engine::Outcome::solved) return std::nullopt;
  return engine.starts();
}

}  // namespace film::planning::detail
