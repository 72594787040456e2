#include <algorithm>

#include "cutting/detail/order.h"

namespace film::cutting::detail {
namespace {

constexpr std::size_t kLongestMoved = 40;
constexpr double kLeastGain = 1e-7;  // mm

/// An order priced from exit to entry.
class DirectedOrder {
 public:
  DirectedOrder(Vec2 start, const std::vector<Ends>& ends, const Precedences& before,
                std::vector<std::size_t>& order)
      : start_(start), ends_(ends), order_(order), position_(order.size()), after_(order.size()) {
    for (const auto& [first, second] : before) after_[first].push_back(second);
    renumber();
  }

  /// One sweep over all moves; true when something got shorter.
  bool improve() {
    bool better = false;
    const std::size_t n = order_.size();
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = i; j < n; ++j) better = try_reverse(i, j) || better;
    }
    for (std::size_t size = 1; size <= std::min(kLongestMoved, n); ++size) {
      for (std::size_t i = 0; i + size <= n; ++i) {
        // The stretch i .. j-1 and the stretch j .. k-1 behind it change places.
        const std::size_t j = i + size;
        for (std::size_t k = j + 1; k <= n; ++k) {
          if (try_swap(i, j, k)) better = true;
        }
        for (std::size_t h = 0; h < i; ++h) {
          if (try_swap(h, i, j)) better = true;
        }
      }
    }
    return better;
  }

 private:
  [[nodiscard]] Vec2 exit_before(std::size_t p) const {
    return p == 0 ? start_ : ends_[order_[p - 1]].exit;
  }
  [[nodiscard]] double cost(Vec2 from, std::size_t p) const {
    return p < order_.size() ? distance(from, ends_[order_[p]].entry) : 0;
  }
  [[nodiscard]] Vec2 exit_at(std::size_t p) const { return ends_[order_[p]].exit; }

  void renumber() {
    forward_.assign(order_.size() + 1, 0);
    backward_.assign(order_.size() + 1, 0);
    for (std::size_t p = 0; p < order_.size(); ++p) {
      position_[order_[p]] = p;
      if (p == 0) continue;
      forward_[p] = forward_[p - 1] + cost(exit_at(p - 1), p);
      backward_[p] = backward_[p - 1] + cost(exit_at(p), p - 1);
    }
  }

  /// True when nothing in first .. middle-1 must come before something in middle .. last-1.
  [[nodiscard]] bool independent(std::size_t first, std::size_t middle, std::size_t last) const {
    for (std::size_t p = first; p < middle; ++p) {
      for (const std::size_t next : after_[order_[p]]) {
        if (position_[next] >= middle && position_[next] < last) return false;
      }
    }
    return true;
  }

  bool try_reverse(std::size_t i, std::size_t j) {
    const double now =
        cost(exit_before(i), i) + forward_[j] - forward_[i] + cost(exit_at(j), j + 1);
    const double then =
        cost(exit_before(i), j) + backward_[j] - backward_[i] + cost(exit_at(i), j + 1);
    if (now - then <= kLeastGain) return false;
    for (std::size_t p = i; p < j; ++p) {
      if (!independent(p, p + 1, j + 1)) return false;
    }
    std::reverse(at(i), at(j + 1));
    renumber();
    return true;
  }

  bool try_swap(std::size_t i, std::size_t j, std::size_t k) {
    const double now = cost(exit_before(i), i) + cost(exit_at(j - 1), j) + cost(exit_at(k - 1), k);
    const double then = cost(exit_before(i), j) + cost(exit_at(k - 1), i) + cost(exit_at(j - 1), k);
    if (now - then <= kLeastGain || !independent(i, j, k)) return false;
    std::rotate(at(i), at(j), at(k));
    renumber();
    return true;
  }

  [[nodiscard]] std::vector<std::size_t>::iterator at(std::size_t p) {
    return order_.begin() + static_cast<std::ptrdiff_t>(p);
  }

  Vec2 start_;
  const std::vector<Ends>& ends_;
  std::vector<std::size_t>& order_;
  std::vector<std::size_t> position_;
  std::vector<std::vector<std::size_t>> after_;
  std::vector<double> forward_, backward_;  // way from the first to each place, and back
};

}  // namespace

void polish(Vec2 start, const std::vector<Ends>& ends, const Precedences& before,
            std::vector<std::size_t>& order) {
  constexpr int kMostSweeps = 20;
  DirectedOrder directed(start, ends, before, order);
  for (int sweep = 0; sweep < kMostSweeps && directed.improve(); ++sweep) {
  }
}

}  // namespace film::cutting::detail
