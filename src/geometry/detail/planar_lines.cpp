#include "geometry/detail/planar_lines.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>

#include "geometry/box.h"
#include "geometry/predicates.h"

namespace film::detail {
namespace {

bool same_ends(const WindingLine& a, const WindingLine& b) {
  return a.from == b.from && a.to == b.to;
}

bool by_ends(const WindingLine& a, const WindingLine& b) {
  if (a.from != b.from) return before(a.from, b.from);
  return before(a.to, b.to);
}

bool idle(const WindingLine& line) {
  return line.from == line.to || line.weight == Overlay::Windings{};
}

void merge_equal(std::vector<WindingLine>& lines) {
  std::sort(lines.begin(), lines.end(), by_ends);
  std::size_t kept = 0;
  for (std::size_t i = 0; i < lines.size();) {
    WindingLine sum = lines[i];
    for (++i; i < lines.size() && same_ends(lines[i], sum); ++i) {
      for (std::size_t k = 0; k < Overlay::kLayers; ++k) sum.weight[k] += lines[i].weight[k];
    }
    if (!idle(sum)) lines[kept++] = sum;
  }
  lines.resize(kept);
}

/// Square cells over the plane, each with the lines that may pass through it.
class Cells {
 public:
  explicit Cells(const std::vector<WindingLine>& lines) {
    Box box;
    double total = 0;
    for (const WindingLine& line : lines) {
      box.add(line.from);
      box.add(line.to);
      total += distance(line.from, line.to);
    }
    const double count = static_cast<double>(lines.size());
    const double longest = std::max({box.width(), box.height(), kOverlayGrid});
    // Cells about as long as a line, but never so small that long lines visit too many.
    size_ = std::max(total / count, longest / (64 + 4 * std::sqrt(count)));
    low_ = box.low;
    columns_ = static_cast<std::size_t>(box.width() / size_) + 1;
    rows_ = static_cast<std::size_t>(box.height() / size_) + 1;
    start_.assign(columns_ * rows_ + 1, 0);
    for (const WindingLine& line : lines) visit(line, [this](std::size_t c) { ++start_[c + 1]; });
    for (std::size_t c = 1; c < start_.size(); ++c) start_[c] += start_[c - 1];
    members_.resize(start_.back());
    std::vector<std::size_t> next(start_.begin(), start_.end() - 1);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      visit(lines[i], [&](std::size_t c) { members_[next[c]++] = static_cast<std::uint32_t>(i); });
    }
  }

  [[nodiscard]] std::size_t count() const { return columns_ * rows_; }
  [[nodiscard]] const std::uint32_t* begin(std::size_t cell) const {
    return members_.data() + start_[cell];
  }
  [[nodiscard]] const std::uint32_t* end(std::size_t cell) const {
    return members_.data() + start_[cell + 1];
  }

 private:
  [[nodiscard]] std::size_t index(double offset, std::size_t count) const {
    const double at = offset / size_;
    return at <= 0 ? 0 : std::min(static_cast<std::size_t>(at), count - 1);
  }

  /// Row by row, the columns that the line touches, with a little to spare for rounding.
  template <class Use>
  void visit(const WindingLine& line, const Use& use) const {
    const Vec2 a = line.from - low_;
    const Vec2 b = line.to - low_;
    const double slack = 1e-6 * size_;
    const std::size_t first = index(std::min(a.y, b.y) - slack, rows_);
    const std::size_t last = index(std::max(a.y, b.y) + slack, rows_);
    for (std::size_t row = first; row <= last; ++row) {
      double from = a.x;
      double to = b.x;
      if (first != last) {
        const double slope = (b.x - a.x) / (b.y - a.y);
        const double x0 = a.x + slope * (static_cast<double>(row) * size_ - a.y);
        const double x1 = x0 + slope * size_;
        from = std::max(a.x, std::min(x0, x1));
        to = std::min(b.x, std::max(x0, x1));
      }
      const std::size_t right = index(to + slack, columns_);
      for (std::size_t column = index(from - slack, columns_); column <= right; ++column) {
        use(row * columns_ + column);
      }
    }
  }

  Vec2 low_;
  double size_ = 1;
  std::size_t columns_ = 1, rows_ = 1;
  std::vector<std::size_t> start_;
  std::vector<std::uint32_t> members_;
};

Vec2 crossing(const WindingLine& a, const WindingLine& b) {
  const Vec2 u = a.to - a.from;
  const Vec2 v = b.to - b.from;
  return a.from + (cross(b.from - a.from, v) / cross(u, v)) * u;
}

struct Split {
  std::uint32_t line;
  Vec2 at;
};

void split_at_end(std::uint32_t number, const WindingLine& line, Vec2 end,
                  std::vector<Split>& splits) {
  if (end == line.from || end == line.to) return;
  if (meet(line.from, line.to, end, end) != Meeting::none) splits.push_back({number, end});
}

void split_pair(std::uint32_t i, const WindingLine& a, std::uint32_t j, const WindingLine& b,
                double grid, std::vector<Split>& splits) {
  if (a.to.x < b.from.x || b.to.x < a.from.x) return;
  if (std::max(a.from.y, a.to.y) < std::min(b.from.y, b.to.y) ||
      std::max(b.from.y, b.to.y) < std::min(a.from.y, a.to.y)) {
    return;
  }
  const Meeting meeting = meet(a.from, a.to, b.from, b.to);
  if (meeting == Meeting::none) return;
  if (meeting == Meeting::cross) {
    const Vec2 at = on_grid(crossing(a, b), grid);
    if (at != a.from && at != a.to) splits.push_back({i, at});
    if (at != b.from && at != b.to) splits.push_back({j, at});
    return;
  }
  split_at_end(i, a, b.from, splits);
  split_at_end(i, a, b.to, splits);
  split_at_end(j, b, a.from, splits);
  split_at_end(j, b, a.to, splits);
}

std::vector<Split> find_splits(const std::vector<WindingLine>& lines, double grid) {
  std::vector<Split> splits;
  if (lines.empty()) return splits;
  const Cells cells(lines);
  for (std::size_t cell = 0; cell < cells.count(); ++cell) {
    for (const auto* i = cells.begin(cell); i != cells.end(cell); ++i) {
      for (const auto* j = i + 1; j != cells.end(cell); ++j) {
        split_pair(*i, lines[*i], *j, lines[*j], grid, splits);
      }
    }
  }
  return splits;
}

/// Replaces each split line by its parts.
void apply_splits(std::vector<WindingLine>& lines, std::vector<Split> splits) {
  const auto along = [&lines](const Split& s) {
    const WindingLine& line = lines[s.line];
    return dot(s.at - line.from, line.to - line.from);
  };
  std::sort(splits.begin(), splits.end(), [&](const Split& a, const Split& b) {
    return a.line != b.line ? a.line < b.line : along(a) < along(b);
  });
  for (std::size_t s = 0; s < splits.size();) {
    const std::uint32_t number = splits[s].line;
    const WindingLine whole = lines[number];
    Vec2 at = whole.from;
    for (; s < splits.size() && splits[s].line == number; ++s) {
      if (splits[s].at == at) continue;
      lines.push_back(directed(at, splits[s].at, whole.weight));
      at = splits[s].at;
    }
    lines[number] = directed(at, whole.to, whole.weight);
  }
}

void coarsen(std::vector<WindingLine>& lines, double grid) {
  for (WindingLine& line : lines) {
    line = directed(on_grid(line.from, grid), on_grid(line.to, grid), line.weight);
  }
}

}  // namespace

Vec2 on_grid(Vec2 p, double grid) {
  return {std::nearbyint(p.x / grid) * grid, std::nearbyint(p.y / grid) * grid};
}

WindingLine directed(Vec2 from, Vec2 to, Overlay::Windings weight) {
  if (!before(to, from)) return {from, to, weight};
  for (int& w : weight) w = -w;
  return {to, from, weight};
}

Result<std::vector<WindingLine>> planar(std::vector<WindingLine> lines, const Context& context) {
  // Rounding a crossing bends its lines a little, which may make a new crossing nearby; a few
  // rounds settle that. Should a knot refuse, a coarser grid loosens it.
  constexpr int kRoundsPerGrid = 16;
  double grid = kOverlayGrid;
  for (int round = 1;; ++round) {
    if (context.stopped()) return fail(ErrorCode::cancelled, "stopped while combining regions");
    merge_equal(lines);
    std::vector<Split> splits = find_splits(lines, grid);
    if (splits.empty()) return lines;
    apply_splits(lines, std::move(splits));
    if (round % kRoundsPerGrid == 0) coarsen(lines, grid *= 16);
  }
}

std::vector<Sides> windings(const std::vector<WindingLine>& lines) {
  std::vector<Vec2> events;
  std::vector<std::uint32_t> starting(lines.size());
  for (std::uint32_t i = 0; i < lines.size(); ++i) {
    events.push_back(lines[i].from);
    events.push_back(lines[i].to);
    starting[i] = i;
  }
  std::sort(events.begin(), events.end(), before);
  events.erase(std::unique(events.begin(), events.end()), events.end());
  // From one point, the line that leans least to the left comes first: bottom to top.
  std::sort(starting.begin(), starting.end(), [&lines](std::uint32_t i, std::uint32_t j) {
    const WindingLine& a = lines[i];
    const WindingLine& b = lines[j];
    if (a.from != b.from) return before(a.from, b.from);
    return orientation(a.from, a.to, b.to) > 0;
  });
  std::vector<Sides> sides(lines.size());
  std::vector<std::uint32_t> open;  // bottom to top at the sweep
  std::vector<std::uint32_t> fresh;
  std::size_t next = 0;
  for (const Vec2 p : events) {
    const auto first = std::partition_point(open.begin(), open.end(), [&](std::uint32_t i) {
      return orientation(lines[i].from, lines[i].to, p) > 0;
    });
    auto last = first;
    while (last != open.end() && lines[*last].to == p) ++last;
    Overlay::Windings below{};
    if (first != open.begin()) below = sides[*std::prev(first)].left;
    fresh.clear();
    for (; next < starting.size() && lines[starting[next]].from == p; ++next) {
      const std::uint32_t i = starting[next];
      sides[i].right = below;
      for (std::size_t k = 0; k < Overlay::kLayers; ++k) below[k] += lines[i].weight[k];
      sides[i].left = below;
      fresh.push_back(i);
    }
    const auto at = open.erase(first, last);
    open.insert(at, fresh.begin(), fresh.end());
  }
  return sides;
}

}  // namespace film::detail
