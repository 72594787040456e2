#include "cutting/detail/order.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/rng.h"

namespace film::cutting::detail {
namespace {

constexpr std::size_t kNeighbours = 10;
constexpr std::size_t kLongestMoved = 3;
constexpr std::size_t kBridgeSpan = 50;  // positions within which a disturbance stays
constexpr double kLeastGain = 1e-7;      // mm

/// The path being improved. Node 0 is the fixed start, 1 .. n the points, n + 1 a free end that
/// costs nothing to reach.
class Tour {
 public:
  Tour(Vec2 start, const std::vector<Vec2>& points, const Precedences& before)
      : count_(points.size()),
        at_(points.size() + 1),
        after_(points.size() + 2),
        before_(points.size() + 2) {
    at_[0] = start;
    std::copy(points.begin(), points.end(), at_.begin() + 1);
    for (const auto& [first, second] : before) {
      after_[first + 1].push_back(second + 1);
      before_[second + 1].push_back(first + 1);
    }
    find_neighbours();
    nearest_first();
  }

  [[nodiscard]] const std::vector<std::size_t>& sequence() const { return sequence_; }
  [[nodiscard]] std::size_t count() const { return count_; }

  void improve_all() {
    for (std::size_t node = 1; node <= count_; ++node) wake(node);
    settle();
  }

  /// One round of disturbing and mending. Keeps the path when it got no longer.
  void try_bridge(Rng& rng) {
    if (count_ < 8) return;
    const std::size_t span = std::min(kBridgeSpan, count_ - 1);
    const std::size_t first = 1 + rng.below(count_ - span + 1);
    std::size_t cut[3];
    for (auto& c : cut) c = first + rng.below(span);
    std::sort(std::begin(cut), std::end(cut));
    const auto [i, j, k] = std::tie(cut[0], cut[1], cut[2]);
    if (i == j || j == k || !may_swap(i, j, k)) return;
    const std::vector<std::size_t> saved = sequence_;
    gain_ = 0;
    swap_stretches(i, j, k);
    settle();
    if (gain_ < -kLeastGain) restore(saved);
  }

 private:
  [[nodiscard]] double d(std::size_t a, std::size_t b) const {
    if (a > count_ || b > count_) return 0;
    return distance(at_[a], at_[b]);
  }

  void find_neighbours() {
    near_.resize(count_ + 1);
    std::vector<std::size_t> all;
    for (std::size_t node = 1; node <= count_; ++node) {
      all.clear();
      for (std::size_t other = 1; other <= count_; ++other) {
        if (other != node) all.push_back(other);
      }
      const std::size_t kept = std::min(kNeighbours, all.size());
      std::partial_sort(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(kept), all.end(),
                        [&](std::size_t a, std::size_t b) {
                          const double da = d(node, a);
                          const double db = d(node, b);
                          return da < db || (da == db && a < b);
                        });
      near_[node].assign(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(kept));
    }
  }

  void nearest_first() {
    std::vector<std::size_t> waiting(count_ + 2, 0);
    std::vector<char> done(count_ + 2, 0);
    for (std::size_t node = 1; node <= count_; ++node) waiting[node] = before_[node].size();
    sequence_ = {0};
    for (std::size_t step = 0; step < count_; ++step) {
      std::size_t best = 0;
      double least = std::numeric_limits<double>::infinity();
      for (std::size_t node = 1; node <= count_; ++node) {
        if (done[node] != 0 || waiting[node] > 0) continue;
        const double away = d(sequence_.back(), node);
        if (away < least) {
          least = away;
          best = node;
        }
      }
      done[best] = 1;
      sequence_.push_back(best);
      for (const std::size_t next : after_[best]) --waiting[next];
    }
    sequence_.push_back(count_ + 1);
    position_.resize(sequence_.size());
    renumber(0, sequence_.size() - 1);
    awake_.assign(sequence_.size(), 0);
  }

  void renumber(std::size_t from, std::size_t to) {
    for (std::size_t p = from; p <= to; ++p) position_[sequence_[p]] = p;
  }

  void wake(std::size_t node) {
    if (node == 0 || node > count_ || awake_[node] != 0) return;
    awake_[node] = 1;
    queue_.push_back(node);
  }

  void wake_at(std::size_t p) { wake(sequence_[p]); }

  void settle() {
    for (std::size_t next = 0; next < queue_.size(); ++next) {
      const std::size_t node = queue_[next];
      awake_[node] = 0;
      while (improve(node)) {
      }
    }
    queue_.clear();
  }

  bool improve(std::size_t node) { return two_opt(node) || move_stretch(node); }

  /// True when positions i .. j may run backwards.
  [[nodiscard]] bool may_reverse(std::size_t i, std::size_t j) const {
    for (std::size_t p = i; p < j; ++p) {
      for (const std::size_t next : after_[sequence_[p]]) {
        if (position_[next] <= j) return false;
      }
    }
    return true;
  }

  /// True when the stretches i .. j-1 and j .. k-1 may change places.
  [[nodiscard]] bool may_swap(std::size_t i, std::size_t j, std::size_t k) const {
    for (std::size_t p = i; p < j; ++p) {
      for (const std::size_t next : after_[sequence_[p]]) {
        if (position_[next] >= j && position_[next] < k) return false;
      }
    }
    return true;
  }

  void reverse(std::size_t i, std::size_t j) {
    std::reverse(sequence_.begin() + static_cast<std::ptrdiff_t>(i),
                 sequence_.begin() + static_cast<std::ptrdiff_t>(j) + 1);
    renumber(i, j);
  }

  bool try_reverse(std::size_t i, std::size_t j) {
    if (i < 1 || j > count_ || i >= j) return false;
    const auto& s = sequence_;
    const double gain =
        d(s[i - 1], s[i]) + d(s[j], s[j + 1]) - d(s[i - 1], s[j]) - d(s[i], s[j + 1]);
    if (gain <= kLeastGain || !may_reverse(i, j)) return false;
    gain_ += gain;
    reverse(i, j);
    for (const std::size_t p : {i - 1, i, j, j + 1}) wake_at(p);
    return true;
  }

  bool two_opt(std::size_t a) {
    const std::size_t i = position_[a];
    const double next = d(a, sequence_[i + 1]);
    const double previous = d(sequence_[i - 1], a);
    for (const std::size_t c : near_[a]) {
      const double there = d(a, c);
      if (there >= next && there >= previous) break;
      const std::size_t j = position_[c];
      if (there < next && (j > i ? try_reverse(i + 1, j) : try_reverse(j + 1, i))) return true;
      if (there < previous && (j > i ? try_reverse(i, j - 1) : try_reverse(j, i - 1))) return true;
    }
    return false;
  }

  /// Moves the stretch i .. j between positions p and p + 1 (outside it), perhaps turned round;
  /// false when something would come before what it must follow.
  bool move(std::size_t i, std::size_t j, std::size_t p, bool turned) {
    const bool forward = p > j;
    const bool fits = forward ? may_swap(i, j + 1, p + 1) : may_swap(p + 1, i, j + 1);
    if (!fits || (turned && !may_reverse(i, j))) return false;
    for (const std::size_t q : {i - 1, i, j, j + 1, p, p + 1}) wake_at(q);
    if (turned) reverse(i, j);
    const auto at = [&](std::size_t q) {
      return sequence_.begin() + static_cast<std::ptrdiff_t>(q);
    };
    if (forward) {
      std::rotate(at(i), at(j + 1), at(p + 1));
      renumber(i, p);
    } else {
      std::rotate(at(p + 1), at(i), at(j + 1));
      renumber(p + 1, j);
    }
    return true;
  }

  bool move_stretch(std::size_t a) {
    for (std::size_t size = 1; size <= kLongestMoved; ++size) {
      if (move_stretch(a, size, true) || (size > 1 && move_stretch(a, size, false))) return true;
    }
    return false;
  }

  /// Looks for a better place for the stretch that begins (or ends) with `a`, where `a` lies beside
  /// a neighbour nearer than the one it leaves.
  bool move_stretch(std::size_t a, std::size_t size, bool begins) {
    const auto& s = sequence_;
    const std::size_t here = position_[a];
    if (!begins && here < size) return false;
    const std::size_t i = begins ? here : here + 1 - size;
    const std::size_t j = i + size - 1;
    if (j > count_) return false;
    const double left = d(s[i - 1], s[i]);
    const double right = d(s[j], s[j + 1]);
    const double saved = left + right - d(s[i - 1], s[j + 1]);
    if (saved <= kLeastGain) return false;
    const double given_up = size == 1 ? std::max(left, right) : (begins ? left : right);
    const std::size_t b = begins ? s[j] : s[i];
    for (const std::size_t c : near_[a]) {
      const double reach = d(a, c);
      if (reach >= given_up) break;
      const std::size_t there = position_[c];
      if (there >= i && there <= j) continue;
      for (const bool after : {true, false}) {
        if (after ? there + 1 == i : there - 1 == j) continue;
        const std::size_t other = after ? s[there + 1] : s[there - 1];
        const double gain = saved + d(c, other) - reach - d(b, other);
        if (gain <= kLeastGain) continue;
        // After c the stretch must begin with a, before c it must end with it.
        if (move(i, j, after ? there : there - 1, size > 1 && begins != after)) {
          gain_ += gain;
          return true;
        }
      }
    }
    return false;
  }

  void swap_stretches(std::size_t i, std::size_t j, std::size_t k) {
    const auto& s = sequence_;
    gain_ += d(s[i - 1], s[i]) + d(s[j - 1], s[j]) + d(s[k - 1], s[k]) - d(s[i - 1], s[j]) -
             d(s[k - 1], s[i]) - d(s[j - 1], s[k]);
    for (const std::size_t p : {i - 1, i, j - 1, j, k - 1, k}) wake_at(p);
    std::rotate(sequence_.begin() + static_cast<std::ptrdiff_t>(i),
                sequence_.begin() + static_cast<std::ptrdiff_t>(j),
                sequence_.begin() + static_cast<std::ptrdiff_t>(k));
    renumber(i, k - 1);
  }

  void restore(const std::vector<std::size_t>& saved) {
    sequence_ = saved;
    renumber(0, sequence_.size() - 1);
  }

  std::size_t count_;
  std::vector<Vec2> at_;
  std::vector<std::vector<std::size_t>> after_, before_, near_;
  std::vector<std::size_t> sequence_, position_, queue_;
  std::vector<char> awake_;
  double gain_ = 0;  // since it was last set to 0
};

}  // namespace

std::vector<std::size_t> short_order(Vec2 start, const std::vector<Vec2>& points,
                                     const Precedences& before, std::uint64_t seed,
                                     std::size_t iterations, const Context& context) {
  Tour tour(start, points, before);
  tour.improve_all();
  Rng rng(seed);
  for (std::size_t round = 0; round < iterations; ++round) {
    if (round % 256 == 0) {
      if (context.stopped()) break;
      context.report("ordering the cuts",
                     static_cast<double>(round) / static_cast<double>(iterations));
    }
    tour.try_bridge(rng);
  }
  std::vector<std::size_t> order;
  for (std::size_t p = 1; p <= tour.count(); ++p) order.push_back(tour.sequence()[p] - 1);
  return order;
}

std::vector<std::size_t> best_starts(Vec2 start, const std::vector<Line>& lines,
                                     const std::vector<std::size_t>& order) {
  // cost[k] of the layer: shortest way to leave the line when entered at place k.
  std::vector<std::vector<std::size_t>> came_from;
  std::vector<double> cost{0};
  std::vector<Vec2> exits{start};
  for (const std::size_t i : order) {
    const Line& line = lines[i];
    std::vector<double> next_cost;
    std::vector<Vec2> next_exits;
    auto& from = came_from.emplace_back();
    for (const double place : line.starts) {
      const bool slit = is_open(line.kind);
      const Vec2 entry = slit ? line.points.front() : point_along(line.points, place);
      double least = std::numeric_limits<double>::infinity();
      std::size_t best = 0;
      for (std::size_t k = 0; k < exits.size(); ++k) {
        const double total = cost[k] + distance(exits[k], entry);
        if (total < least) {
          least = total;
          best = k;
        }
      }
      next_cost.push_back(least);
      next_exits.push_back(slit ? line.points.back() : entry);
      from.push_back(best);
    }
    cost = std::move(next_cost);
    exits = std::move(next_exits);
  }
  std::vector<std::size_t> chosen(order.size(), 0);
  auto last = static_cast<std::size_t>(std::min_element(cost.begin(), cost.end()) - cost.begin());
  for (std::size_t step = order.size(); step-- > 0;) {
    chosen[step] = last;
    last = came_from[step][last];
  }
  return chosen;
}

}  // namespace film::cutting::detail
