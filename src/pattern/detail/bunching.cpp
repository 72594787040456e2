#include "pattern/detail/bunching.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace film::pattern::detail {
namespace {

/// Bends gathered along a run: each node's turn is spread over the halves of its edges.
class Turning {
 public:
  void add(double along, double total) {
    along_.push_back(along);
    total_.push_back(total);
  }
  void close() { closed_ = true; }

  /// Mean curvature within `width` of a place; a run with ends is judged as far as it goes.
  [[nodiscard]] double curvature(double place, double width) const {
    double from = place - width;
    double to = place + width;
    if (closed_) {
      const double most = (along_.back() - along_.front()) / 2;
      from = std::max(from, place - most);
      to = std::min(to, place + most);
    } else {
      from = std::max(from, along_.front());
      to = std::min(to, along_.back());
    }
    return to > from ? (total(to) - total(from)) / (to - from) : 0;
  }

 private:
  [[nodiscard]] double total(double place) const {
    const double round = along_.back() - along_.front();
    if (closed_ && place < along_.front()) return total(place + round) - total_.back();
    if (closed_ && place > along_.back()) return total(place - round) + total_.back();
    const auto upper = std::lower_bound(along_.begin() + 1, along_.end() - 1, place);
    const auto k = static_cast<std::size_t>(upper - along_.begin());
    const double step = along_[k] - along_[k - 1];
    const double share = step > 0 ? (place - along_[k - 1]) / step : 0;
    return std::lerp(total_[k - 1], total_[k], share);
  }

  std::vector<double> along_, total_;
  bool closed_ = false;
};

bool tucks_both_ways(const FoldNode& node) { return node.before > 0 && node.after > 0; }

bool goes_on(const FoldNode& node, const ExtendOptions& options) {
  return tucks_both_ways(node) && !is_corner(node, options);
}

/// The run of `count` edges from node `first` on; closed when it comes back to its start.
Run run_of(const FoldLine& line, std::size_t first, std::size_t count, bool closed) {
  const std::size_t n = line.nodes.size();
  Turning turning;
  std::vector<double> along{0};
  for (std::size_t k = 0; k < count; ++k) {
    const std::size_t i = (first + k) % n;
    along.push_back(along.back() + distance(line.nodes[i].at, line.next(i).at));
  }
  const auto middle = [&along](std::size_t k) { return (along[k] + along[k + 1]) / 2; };
  double total = 0;
  if (!closed) turning.add(0, 0);
  turning.add(middle(0), 0);
  const std::size_t bends = closed ? count : count - 1;
  for (std::size_t k = 1; k <= bends; ++k) {
    total += line.nodes[(first + k) % n].turn;
    turning.add(k < count ? middle(k) : along.back() + middle(0), total);
  }
  if (closed) {
    turning.close();
  } else {
    turning.add(along.back(), total);
  }
  Run run;
  for (std::size_t k = 1; k <= bends; ++k) {
    const FoldNode& node = line.nodes[(first + k) % n];
    Part part;
    part.node = (first + k) % n;
    part.from = middle(k - 1);
    part.to = k < count ? middle(k) : along.back() + middle(0);
    part.allowance = node.after;
    part.curvature = turning.curvature(along[k], 2 * node.after);
    const double start = line.nodes[first].along;
    part.from += start;
    part.to += start;
    run.push_back(part);
  }
  return run;
}

/// What is left of a part's misfit once the film has given what it gives, mm, without sign.
double left_over(const Part& part, double give) {
  const double own_length = part.length() * std::max(0.0, 1 + part.curvature * part.allowance);
  return std::max(0.0, std::abs(part.misfit()) - give * own_length);
}

/// Shares the misfit of parts [begin, end) evenly among as many slits as it takes.
void share_out(const FoldLine& line, const Run& run, std::size_t begin, std::size_t end,
               const ReliefOptions& relief, std::vector<SlitPlace>& places) {
  double sum = 0;
  for (std::size_t k = begin; k < end; ++k) sum += left_over(run[k], relief.give);
  const double count = std::ceil(sum / relief.room_per_slit.value - 1e-9);
  double gathered = 0;
  double slit = 0;
  for (std::size_t k = begin; k < end && slit < count; ++k) {
    const double here = left_over(run[k], relief.give);
    for (; slit < count && (slit + 0.5) / count * sum <= gathered + here; ++slit) {
      const double share = here > 0 ? ((slit + 0.5) / count * sum - gathered) / here : 0.5;
      places.push_back({std::lerp(run[k].from, run[k].to, share), line.nodes[run[k].node].edge});
    }
    gathered += here;
  }
}

}  // namespace

double Part::strain() const {
  const double bend = curvature * allowance;
  if (bend >= 0) return 2 * bend / (1 + bend);
  if (bend <= -1) return -std::numeric_limits<double>::infinity();
  return 2 * bend / (1 + bend);
}

bool is_corner(const FoldNode& node, const ExtendOptions& options) {
  return std::abs(node.turn) > options.corner.radians;
}

std::vector<Run> runs(const FoldLine& line, const ExtendOptions& options) {
  const std::size_t n = line.nodes.size();
  std::vector<Run> runs;
  std::size_t start = 0;
  while (start < n && goes_on(line.nodes[start], options)) ++start;
  if (start == n) return {run_of(line, 0, n, true)};
  for (std::size_t done = 0; done < n;) {
    const std::size_t first = (start + done) % n;
    std::size_t count = 1;
    while (done + count < n && goes_on(line.nodes[(first + count) % n], options)) ++count;
    if (count > 1) runs.push_back(run_of(line, first, count, false));
    done += count;
  }
  return runs;
}

std::vector<SlitPlace> slit_places(const FoldLine& line, const std::vector<Run>& runs,
                                   const ExtendOptions& options) {
  std::vector<SlitPlace> places;
  for (const Run& run : runs) {
    for (std::size_t begin = 0; begin < run.size();) {
      const bool outward = run[begin].curvature > 0;
      std::size_t end = begin;
      while (end < run.size() && left_over(run[end], options.relief.give) > 0 &&
             (run[end].curvature > 0) == outward) {
        ++end;
      }
      if (end == begin) {
        ++begin;
        continue;
      }
      share_out(line, run, begin, end, options.relief, places);
      begin = end;
    }
  }
  for (const FoldNode& node : line.nodes) {  // inward corners: the tuck has to open there
    if (!tucks_both_ways(node) || !is_corner(node, options) || node.turn > 0) continue;
    const double lack = (node.before + node.after) * -node.turn;
    if (lack > options.relief.room_per_slit.value) places.push_back({node.along, node.edge});
  }
  return places;
}

}  // namespace film::pattern::detail
