#include "layout/detail/collision/pair_field.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <numeric>
#include <utility>

namespace film::layout::detail {
namespace {

/// The region is divided into blocks of this many cells each way for building.
constexpr std::size_t kBlock = 4;

/// Does the outline, at a corner of it, face `normal`, give or take an angle of the given sine?
bool faces(const Corner& corner, Vec2 normal, double sine) {
  if (!corner.convex) return false;
  if (!corner.known || sine >= 1) return true;
  return cross(corner.before, normal) >= -sine && cross(normal, corner.after) >= -sine;
}

/// A side of the sum of two convex rings before inflation: where it starts, and the corners of
/// both that are there.
struct SumSide {
  Vec2 from;
  Vec2 normal;
  bool outline = false;  // it is a side of one of the outlines
  bool outer = false;    // and may be on the boundary
  const Corner* a = nullptr;
  const Corner* b = nullptr;
};

std::size_t lowest(const ConvexPart& part) {
  std::size_t at = 0;
  for (std::size_t i = 1; i < part.size(); ++i) {
    const Vec2 p = part[i].at;
    const Vec2 q = part[at].at;
    if (p.y < q.y || (p.y == q.y && p.x < q.x)) at = i;
  }
  return at;
}

/// Minkowski sum of two convex parts: their edges merged by direction.
std::vector<SumSide> convex_sum(const ConvexPart& a, const ConvexPart& b) {
  constexpr double kLeeway = 1e-9;
  const std::size_t a0 = lowest(a);
  const std::size_t b0 = lowest(b);
  std::vector<SumSide> sum;
  sum.reserve(a.size() + b.size());
  std::size_t i = 0;
  std::size_t k = 0;
  while (i < a.size() || k < b.size()) {
    const Corner& ca = a[(a0 + i) % a.size()];
    const Corner& cb = b[(b0 + k) % b.size()];
    const Vec2 along_a = a[(a0 + i + 1) % a.size()].at - ca.at;
    const Vec2 along_b = b[(b0 + k + 1) % b.size()].at - cb.at;
    const double turn = cross(along_a, along_b);
    const bool step_a = i < a.size() && (k >= b.size() || turn >= 0);
    const bool step_b = k < b.size() && (i >= a.size() || turn <= 0);
    const Vec2 along = step_a ? along_a : along_b;
    const Vec2 normal = -left_of(along) / length(along);
    const bool outline = (step_a && ca.outline_follows) || (step_b && cb.outline_follows);
    const bool outer = outline && (step_a == step_b || faces(step_a ? cb : ca, normal, kLeeway));
    sum.push_back({ca.at + cb.at, normal, outline, outer, &ca, &cb});
    if (step_a) ++i;
    if (step_b) ++k;
  }
  // Sides in one line change places by rounding; then none of the two is told apart.
  for (std::size_t s = 0; s < sum.size(); ++s) {
    SumSide& side = sum[s];
    SumSide& next = sum[(s + 1) % sum.size()];
    if (std::abs(cross(side.normal, next.normal)) > kLeeway) continue;
    side.outer = next.outer = side.outline || next.outline;
  }
  return sum;
}

struct Edge {
  Vec2 point, normal;
  bool outer = false;
};

/// Where the lines through two edges meet; for nearly parallel ones the second edge's own point.
Vec2 corner(const Edge& first, const Edge& second) {
  const double turn = cross(first.normal, second.normal);
  if (std::abs(turn) < 1e-7) return second.point;
  const double a = dot(first.normal, first.point);
  const double b = dot(second.normal, second.point);
  return {(a * second.normal.y - b * first.normal.y) / turn,
          (b * first.normal.x - a * second.normal.x) / turn};
}

/// Tangent sides at the start of `side` that lead from direction `last` to its own in steps of
/// `widest_turn`.
void round_corner(const SumSide& side, Vec2 last, double clearance, double widest_turn,
                  std::vector<Edge>& edges) {
  const double turn = std::atan2(cross(last, side.normal), dot(last, side.normal));
  const auto steps = static_cast<int>(std::ceil(turn / widest_turn - 1e-9));
  const double leeway = widest_turn < 1 ? std::sin(widest_turn) : 1.0;
  for (int s = 1; s < steps; ++s) {
    const double angle = turn * s / steps;
    const Vec2 between = std::cos(angle) * last + std::sin(angle) * left_of(last);
    const bool outer = faces(*side.a, between, leeway) && faces(*side.b, between, leeway);
    edges.push_back({side.from + clearance * between, between, outer});
  }
}

inline double squared_distance(const PairField::Segment& s, Vec2 p) {
  const Vec2 d = p - s.from;
  const double t = std::min(std::max(dot(d, s.along), 0.0), s.length);
  return squared_length(d - t * s.along);
}

}  // namespace

ConvexSum inflated_sum(const ConvexPart& a, const ConvexPart& negated_b, double clearance,
                       double widest_turn) {
  const std::vector<SumSide> sides = convex_sum(a, negated_b);
  std::vector<Edge> edges;
  for (std::size_t i = 0; i < sides.size(); ++i) {
    const SumSide& side = sides[i];
    const Vec2 last = sides[(i + sides.size() - 1) % sides.size()].normal;
    round_corner(side, last, clearance, widest_turn, edges);
    edges.push_back({side.from + clearance * side.normal, side.normal, side.outer});
  }
  ConvexSum out;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    out.ring.push_back(corner(edges[(i + edges.size() - 1) % edges.size()], edges[i]));
    out.outer.push_back(edges[i].outer ? 1 : 0);
  }
  return out;
}

/// A coarse grid over the region: which sums reach into each block of cells, and which of their
/// sides cross it.
class PairField::Blocks {
 public:
  /// What of a sum is in a block.
  struct Part {
    std::uint32_t index;
    std::uint32_t first, last;  // its half-planes that cross the block, of crossing()
  };

  explicit Blocks(const PairField& field)
      : columns_((field.columns_ + kBlock - 1) / kBlock),
        rows_((field.rows_ + kBlock - 1) / kBlock),
        low_(field.box_.low),
        per_x_(field.per_x_ / kBlock),
        per_y_(field.per_y_ / kBlock),
        parts_(columns_ * rows_),
        seen_(field.parts_.size(), 0) {
    std::vector<char> covered(parts_.size(), 0);
    for (std::uint32_t k = 0; k < field.parts_.size(); ++k) {
      visit(field.part_boxes_[k], [&](std::size_t block) {
        if (covered[block]) return;
        const auto first = static_cast<std::uint32_t>(crossing_.size());
        const Vec2 centre = centre_of(block);
        bool whole = true;
        for (std::uint32_t h = field.parts_[k].first; h < field.parts_[k].last; ++h) {
          const HalfPlane& plane = field.half_planes_[h];
          const double at = plane.nx * centre.x + plane.ny * centre.y - plane.offset;
          const double reach = std::abs(plane.nx) * half_x() + std::abs(plane.ny) * half_y();
          if (at - reach >= 0) return crossing_.resize(first);
          whole = whole && at + reach < -field.slack_;
          if (at + reach >= 0) crossing_.push_back(h);
        }
        if (whole) {
          parts_[block].clear();
          covered[block] = 1;
        }
        parts_[block].push_back({k, first, static_cast<std::uint32_t>(crossing_.size())});
      });
    }
  }

  [[nodiscard]] std::size_t columns() const { return columns_; }
  [[nodiscard]] std::size_t rows() const { return rows_; }
  [[nodiscard]] const std::vector<Part>& parts(std::size_t column, std::size_t row) const {
    return parts_[row * columns_ + column];
  }
  [[nodiscard]] std::span<const std::uint32_t> crossing(const Part& part) const {
    return std::span(crossing_).subspan(part.first, part.last - part.first);
  }
  [[nodiscard]] Vec2 centre(std::size_t column, std::size_t row) const {
    return centre_of(row * columns_ + column);
  }
  [[nodiscard]] double radius() const {
    return std::sqrt(half_x() * half_x() + half_y() * half_y());
  }

  /// Calls `use` once with every part that reaches into a block which the box touches.
  template <typename Use>
  void each_part(const Box& box, Use use) {
    ++round_;
    visit(box, [&](std::size_t block) {
      for (const Part& part : parts_[block]) {
        if (seen_[part.index] == round_) continue;
        seen_[part.index] = round_;
        use(part.index);
      }
    });
  }

 private:
  [[nodiscard]] double half_x() const { return 0.5 / per_x_ * (1 + 1e-9); }
  [[nodiscard]] double half_y() const { return 0.5 / per_y_ * (1 + 1e-9); }
  [[nodiscard]] Vec2 centre_of(std::size_t block) const {
    return {low_.x + (static_cast<double>(block % columns_) + 0.5) / per_x_,
            low_.y + (static_cast<double>(block / columns_) + 0.5) / per_y_};
  }
  template <typename Use>
  void visit(const Box& box, Use use) const {
    const auto index = [](double at, std::size_t count) {
      return static_cast<std::size_t>(std::clamp(at, 0.0, static_cast<double>(count - 1)));
    };
    const std::size_t last_column = index((box.high.x - low_.x) * per_x_ + 1e-9, columns_);
    const std::size_t last_row = index((box.high.y - low_.y) * per_y_ + 1e-9, rows_);
    for (std::size_t r = index((box.low.y - low_.y) * per_y_ - 1e-9, rows_); r <= last_row; ++r) {
      for (std::size_t c = index((box.low.x - low_.x) * per_x_ - 1e-9, columns_); c <= last_column;
           ++c) {
        use(r * columns_ + c);
      }
    }
  }

  std::size_t columns_, rows_;
  Vec2 low_;
  double per_x_, per_y_;
  std::vector<std::vector<Part>> parts_;
  std::vector<std::uint32_t> crossing_;
  std::vector<std::uint32_t> seen_;  // round in which a part was last met
  std::uint32_t round_ = 0;
};

/// What may matter to a cell of one block.
struct PairField::Nearby {
  const Blocks& blocks;
  const std::vector<Blocks::Part>* parts = nullptr;
  std::vector<std::uint32_t> segments;  // that may be nearest to a point of the block
  std::vector<double> squares;          // scratch: of distances
};

PairField::PairField(std::vector<ConvexSum> sums, double slack, double cells_along)
    : slack_(slack) {
  // Large rings first: they cover most of what does not belong to the boundary.
  std::vector<double> areas;
  for (const ConvexSum& sum : sums) areas.push_back(signed_area(std::span(sum.ring)));
  std::vector<std::size_t> order(sums.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return areas[a] > areas[b]; });
  std::vector<ConvexSum> sorted;
  for (const std::size_t k : order) sorted.push_back(std::move(sums[k]));
  for (const ConvexSum& sum : sorted) box_.add(bounding_box(std::span(sum.ring)));
  add_half_planes(sorted);
  lay_cells(cells_along);
  Blocks blocks(*this);
  add_boundary(sorted, blocks);
  fill_cells(blocks);
  fill_rough();
}

void PairField::lay_cells(double cells_along) {
  const double side = std::max(box_.width(), box_.height()) / cells_along;
  columns_ = static_cast<std::uint32_t>(std::clamp(std::ceil(box_.width() / side), 1.0, 64.0));
  rows_ = static_cast<std::uint32_t>(std::clamp(std::ceil(box_.height() / side), 1.0, 64.0));
  per_x_ = static_cast<double>(columns_) / box_.width();
  per_y_ = static_cast<double>(rows_) / box_.height();
}

void PairField::add_half_planes(const std::vector<ConvexSum>& sums) {
  for (const ConvexSum& sum : sums) {
    const Ring& ring = sum.ring;
    const auto first = static_cast<std::uint32_t>(half_planes_.size());
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 edge = ring[(i + 1) % ring.size()] - ring[i];
      const double size = length(edge);
      if (size == 0) continue;
      const Vec2 normal = -left_of(edge) / size;
      half_planes_.push_back({normal.x, normal.y, dot(normal, ring[i])});
    }
    parts_.push_back({first, static_cast<std::uint32_t>(half_planes_.size())});
    part_boxes_.push_back(bounding_box(std::span(ring)));
  }
}

/// Keeps those stretches of from-to that lie in no other part (deeper than half the slack).
void PairField::clip(Vec2 from, Vec2 to, std::size_t own, Blocks& blocks) {
  const double size = distance(from, to);
  if (size == 0) return;
  const Vec2 along = (to - from) / size;
  Box span;
  span.add(from);
  span.add(to);
  std::vector<std::pair<double, double>> covered;
  bool gone = false;
  blocks.each_part(span, [&](std::uint32_t k) {
    if (gone || k == own || !part_boxes_[k].touches(span)) return;
    double low = 0;
    double high = size;
    for (std::uint32_t h = parts_[k].first; h < parts_[k].last && low < high; ++h) {
      const HalfPlane& plane = half_planes_[h];
      const double start = plane.nx * from.x + plane.ny * from.y - plane.offset + slack_ / 2;
      const double slope = plane.nx * along.x + plane.ny * along.y;
      if (std::abs(slope) < 1e-14) {
        if (start >= 0) high = low;
      } else if (slope > 0) {
        high = std::min(high, -start / slope);
      } else {
        low = std::max(low, -start / slope);
      }
    }
    gone = low <= 0 && high >= size;
    if (low < high) covered.emplace_back(low, high);
  });
  if (gone) return;
  std::sort(covered.begin(), covered.end());
  double at = 0;
  covered.emplace_back(size, size);
  for (const auto& [low, high] : covered) {
    if (low > at) segments_.push_back({from + at * along, along, low - at});
    at = std::max(at, high);
  }
}

void PairField::add_boundary(const std::vector<ConvexSum>& sums, Blocks& blocks) {
  for (std::size_t k = 0; k < sums.size(); ++k) {
    const Ring& ring = sums[k].ring;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      if (sums[k].outer[i]) clip(ring[i], ring[(i + 1) % ring.size()], k, blocks);
    }
  }
}

Box PairField::cell_box(std::size_t column, std::size_t row) const {
  const auto x = static_cast<double>(column);
  const auto y = static_cast<double>(row);
  return {{box_.low.x + x / per_x_, box_.low.y + y / per_y_},
          {box_.low.x + (x + 1) / per_x_, box_.low.y + (y + 1) / per_y_}};
}

void PairField::fill_cells(const Blocks& blocks) {
  cells_.resize(columns_ * rows_);
  std::vector<double> squares(segments_.size());
  Nearby nearby{blocks, nullptr, {}, {}};
  for (std::size_t block_row = 0; block_row < blocks.rows(); ++block_row) {
    for (std::size_t block_column = 0; block_column < blocks.columns(); ++block_column) {
      nearby.parts = &blocks.parts(block_column, block_row);
      if (nearby.parts->empty()) continue;
      double nearest = std::numeric_limits<double>::infinity();
      for (std::size_t i = 0; i < segments_.size(); ++i) {
        const Vec2 centre = blocks.centre(block_column, block_row);
        squares[i] = squared_distance(segments_[i], centre);
        nearest = std::min(nearest, squares[i]);
      }
      const double reach = std::sqrt(nearest) + 2 * blocks.radius();
      nearby.segments.clear();
      for (std::size_t i = 0; i < segments_.size(); ++i) {
        if (squares[i] > reach * reach) continue;
        nearby.segments.push_back(static_cast<std::uint32_t>(i));
      }
      const std::size_t end_row = std::min<std::size_t>(rows_, (block_row + 1) * kBlock);
      const std::size_t end_column = std::min<std::size_t>(columns_, (block_column + 1) * kBlock);
      for (std::size_t row = block_row * kBlock; row < end_row; ++row) {
        for (std::size_t column = block_column * kBlock; column < end_column; ++column) {
          cells_[row * columns_ + column] = filled_cell(cell_box(column, row), nearby);
        }
      }
    }
  }
}

/// Appends the words of one cell, or none when the cell is clear.
PairField::Cell PairField::filled_cell(const Box& cell, Nearby& nearby) {
  const Vec2 centre = cell.centre();
  const double hx = cell.width() / 2 * (1 + 1e-9);
  const double hy = cell.height() / 2 * (1 + 1e-9);
  const std::size_t start = words_.size();
  words_.push_back(0);
  for (const Blocks::Part& part : *nearby.parts) {
    if (!part_boxes_[part.index].touches(cell)) continue;
    const std::size_t group = words_.size();
    words_.push_back(0);
    bool clear = false;
    for (const std::uint32_t h : nearby.blocks.crossing(part)) {
      const HalfPlane& plane = half_planes_[h];
      const double at = plane.nx * centre.x + plane.ny * centre.y - plane.offset;
      const double reach = std::abs(plane.nx) * hx + std::abs(plane.ny) * hy;
      clear = at - reach >= 0;
      if (clear) break;
      if (at + reach >= 0) words_.push_back(h);
    }
    if (clear) {
      words_.resize(group);
      continue;
    }
    words_[group] = static_cast<std::uint32_t>(words_.size() - group - 1);
    ++words_[start];
    if (words_[group] == 0) {  // wholly inside this part: nothing else to test
      words_.resize(start);
      words_.insert(words_.end(), {1, 0});
      break;
    }
  }
  if (words_[start] == 0) {
    words_.resize(start);
    return {};
  }
  const bool whole = words_[start] == 1 && words_[start + 1] == 0;
  const double radius = std::sqrt(hx * hx + hy * hy);
  double nearest = std::numeric_limits<double>::infinity();
  nearby.squares.clear();
  for (const std::uint32_t i : nearby.segments) {
    nearby.squares.push_back(squared_distance(segments_[i], centre));
    nearest = std::min(nearest, nearby.squares.back());
  }
  nearest = std::sqrt(nearest);
  const std::size_t count = words_.size();
  words_.push_back(0);
  const double reach = (nearest + 2 * radius) * (nearest + 2 * radius);
  for (std::size_t i = 0; i < nearby.segments.size(); ++i) {
    if (nearby.squares[i] <= reach) words_.push_back(nearby.segments[i]);
  }
  words_[count] = static_cast<std::uint32_t>(words_.size() - count - 1);
  const double least = whole ? std::max(0.0, nearest - radius) : 0.0;
  return {static_cast<std::uint32_t>(start), static_cast<float>(least * (1 - 1e-6))};
}

void PairField::fill_rough() {
  std::vector<double> depths;
  for (std::uint32_t row = 0; row < rows_; ++row) {
    for (std::uint32_t column = 0; column < columns_; ++column) {
      depths.push_back(depth(cell_box(column, row).centre()));
    }
  }
  rough_ = {columns_, rows_, *std::max_element(depths.begin(), depths.end()) / 255, {}};
  for (const double d : depths) {
    const double steps = rough_.step > 0 ? std::ceil(d / rough_.step) : 0;
    rough_.steps.push_back(static_cast<std::uint8_t>(std::min(steps, 255.0)));  // 256 by rounding
  }
}

/// The boundary piece nearest to `p`, a place in the cell; none when `p` is clear.
inline PairField::Nearest PairField::nearest(const Cell& cell, Vec2 p) const {
  const std::uint32_t* word = words_.data() + cell.start;
  bool inside = false;
  for (std::uint32_t groups = *word++; groups > 0; --groups) {
    const std::uint32_t count = *word++;
    if (!inside) {
      bool all = true;
      for (std::uint32_t i = 0; i < count && all; ++i) {
        const HalfPlane& plane = half_planes_[word[i]];
        all = plane.nx * p.x + plane.ny * p.y < plane.offset;
      }
      inside = all;
    }
    word += count;
  }
  if (!inside) return {};
  Nearest found{nullptr, std::numeric_limits<double>::infinity()};
  for (std::uint32_t count = *word++; count > 0; --count) {
    const Segment& segment = segments_[*word++];
    const double squared = squared_distance(segment, p);
    if (squared < found.squared) found = {&segment, squared};
  }
  return found.squared > slack_ * slack_ ? found : Nearest{};
}

double PairField::depth_inside_box(Vec2 p, double enough) const {
  const Cell cell = cells_[cell_of(p)];
  if (cell.start == 0) return 0;
  if (static_cast<double>(cell.least) >= enough) return static_cast<double>(cell.least);
  return std::sqrt(nearest(cell, p).squared);
}

PairField::WayOut PairField::way_out(Vec2 p) const {
  if (!box_.contains(p)) return {};
  const Cell cell = cells_[cell_of(p)];
  if (cell.start == 0) return {};
  const auto [segment, squared] = nearest(cell, p);
  if (segment == nullptr) return {};
  const double along = dot(p - segment->from, segment->along);
  const Vec2 to = segment->from + std::clamp(along, 0.0, segment->length) * segment->along;
  const double depth = std::sqrt(squared);
  const bool at_end = along < 0 || along > segment->length;
  return {depth, to, at_end ? (p - to) / depth : left_of(segment->along)};
}

}  // namespace film::layout::detail
