#include "pattern/detail/bunching.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace film::pattern::detail {
namespace {

/// The bend of a run up to any place on it.
class Turning {
 public:
  /// Up to here the run has bent by `total`; places ascend.
  void add(double along, double total) {
    along_.push_back(along);
    total_.push_back(total);
  }
  void close(double length) { length_ = length; }

  /// Mean curvature within `width` of a place; a run with ends is judged as far as it goes.
  [[nodiscard]] double curvature(double place, double width) const {
    double from = place - width;
    double to = place + width;
    if (length_ > 0) {
      from = std::max(from, place - length_ / 2);
      to = std::min(to, place + length_ / 2);
    } else {
      from = std::max(from, along_.front());
      to = std::min(to, along_.back());
    }
    return to > from ? (total(to) - total(from)) / (to - from) : 0;
  }

 private:
  [[nodiscard]] double total(double place) const {
    if (length_ > 0 && place < along_.front()) return total(place + length_) - total_.back();
    if (length_ > 0 && place >= along_.front() + length_) {
      return total(place - length_) + total_.back();
    }
    const auto upper = std::upper_bound(along_.begin(), along_.end(), place);
    if (upper == along_.begin()) return total_.front();
    if (upper == along_.end()) return total_.back();
    const auto k = static_cast<std::size_t>(upper - along_.begin());
    const double share = (place - along_[k - 1]) / (along_[k] - along_[k - 1]);
    return std::lerp(total_[k - 1], total_[k], share);
  }

  std::vector<double> along_, total_;
  double length_ = 0;  // of a closed run
};

bool tucks_both_ways(const FoldNode& node) { return node.before > 0 && node.after > 0; }

bool goes_on(const FoldNode& node, const ExtendOptions& options) {
  return tucks_both_ways(node) && !is_corner(node, options);
}

/// How far to each side of a place bends are gathered: about the width of the folded tuck.
double reach(double allowance) { return 2 * allowance; }

/// Spreads the turn at a node over its edges, but no further than the tuck is wide.
void spread(Turning& turning, double along, double before, double after, double allowance,
            double total, double turn) {
  turning.add(along - std::min(before / 2, reach(allowance)), total);
  turning.add(along + std::min(after / 2, reach(allowance)), total + turn);
}

/// Cuts the run into even parts, finer than its tuck is wide.
Run parts_of(const FoldLine& line, std::size_t first, const std::vector<double>& along,
             const Turning& turning) {
  const std::size_t n = line.nodes.size();
  Run run;
  for (std::size_t k = 0; k + 1 < along.size(); ++k) {
    const std::size_t i = (first + k) % n;
    const double from = line.nodes[i].after;
    const double to = line.next(i).before;
    const double length = along[k + 1] - along[k];
    const double step = std::max(from, to) / 2;
    const auto count = std::clamp(std::ceil(length / step), 1.0, 10000.0);
    for (double m = 0; m < count; ++m) {
      Part part;
      part.node = i;
      part.from = along[k] + length * m / count;
      part.to = along[k] + length * (m + 1) / count;
      part.allowance = std::lerp(from, to, (m + 0.5) / count);
      part.curvature = turning.curvature((part.from + part.to) / 2, reach(part.allowance));
      part.from += line.nodes[first].along;
      part.to += line.nodes[first].along;
      run.push_back(part);
    }
  }
  return run;
}

/// The run of `count` edges from node `first` on; closed when it comes back to its start.
Run run_of(const FoldLine& line, std::size_t first, std::size_t count, bool closed) {
  const std::size_t n = line.nodes.size();
  std::vector<double> along{0};
  for (std::size_t k = 0; k < count; ++k) {
    const std::size_t i = (first + k) % n;
    along.push_back(along.back() + distance(line.nodes[i].at, line.next(i).at));
  }
  Turning turning;
  if (!closed) turning.add(0, 0);
  double total = 0;
  const std::size_t bends = closed ? count : count - 1;
  for (std::size_t k = 1; k <= bends; ++k) {
    const FoldNode& node = line.nodes[(first + k) % n];
    const double before = along[k] - along[k - 1];
    const double after = k < count ? along[k + 1] - along[k] : along[1];
    spread(turning, along[k], before, after, node.after, total, node.turn);
    total += node.turn;
  }
  if (closed) {
    turning.close(along.back());
  } else {
    turning.add(along.back(), total);
  }
  return parts_of(line, first, along, turning);
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
  double widest = 0;
  for (std::size_t k = begin; k < end; ++k) widest = std::max(widest, run[k].allowance);
  const double room = std::ceil(sum / relief.room_per_slit.value - 1e-9);
  const double most = std::floor((run[end - 1].to - run[begin].from) / widest);
  const double count = std::min(room, std::max(1.0, most));
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
