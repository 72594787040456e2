#include "planning/detail/closure.h"

#include <algorithm>

namespace film::planning::detail {
namespace {

constexpr Time kApart = -kNever;  // no lag known

// Longest lag from each task to each other.
class Lags {
 public:
  explicit Lags(const Instance& instance)
      : n_(instance.tasks), lag_(instance.tasks * instance.tasks, kApart) {
    // Windows are lags from and to time zero.
    for (std::size_t i = 0; i < n_; ++i) {
      for (std::size_t j = 0; j < n_; ++j) {
        at(i, j) = i == j ? 0 : instance.earliest[j] - instance.latest[i];
      }
    }
    for (std::size_t i = 0; i < n_; ++i) {
      for (const Arc& arc : instance.after[i]) at(i, arc.to) = std::max(at(i, arc.to), arc.least);
    }
    for (std::size_t k = 0; k < n_; ++k) {
      for (std::size_t i = 0; i < n_; ++i) {
        const Time first = at(i, k);
        for (std::size_t j = 0; j < n_; ++j) at(i, j) = std::max(at(i, j), first + at(k, j));
      }
    }
  }

  Time& at(std::size_t i, std::size_t j) { return lag_[i * n_ + j]; }

  void add(std::size_t from, std::size_t to, Time least) {
    for (std::size_t i = 0; i < n_; ++i) {
      const Time first = at(i, from) + least;
      if (first + at(to, to) <= at(i, to)) continue;
      for (std::size_t j = 0; j < n_; ++j) at(i, j) = std::max(at(i, j), first + at(to, j));
    }
  }

 private:
  std::size_t n_;
  std::vector<Time> lag_;
};

}  // namespace

Closure closure_of(const Instance& instance) {
  Closure closure;
  if (instance.tasks > kMostClosedTasks) return closure;
  Lags lags(instance);
  for (std::size_t i = 0; i < instance.tasks; ++i) {
    for (std::size_t j = i + 1; j < instance.tasks; ++j) {
      if (instance.exclude(i, j)) closure.open.emplace_back(i, j);
    }
  }
  bool changed = true;
  while (changed) {
    changed = false;
    std::vector<std::pair<std::size_t, std::size_t>> open;
    for (const auto& [i, j] : closure.open) {
      const bool i_first = lags.at(j, i) <= -instance.duration[i];
      const bool j_first = lags.at(i, j) <= -instance.duration[j];
      if (!i_first && !j_first) {
        closure.contradiction = {i, j};
        return closure;
      }
      if (i_first && j_first) {
        open.emplace_back(i, j);
        continue;
      }
      const std::size_t first = i_first ? i : j;
      const std::size_t second = i_first ? j : i;
      if (lags.at(first, second) >= instance.duration[first]) continue;
      lags.add(first, second, instance.duration[first]);
      closure.forced.emplace_back(first, second);
      changed = true;
    }
    closure.open = std::move(open);
  }
  return closure;
}

}  // namespace film::planning::detail
