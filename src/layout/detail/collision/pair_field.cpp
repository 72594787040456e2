#include "layout/detail/collision/pair_field.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>

namespace film::layout::detail {
namespace {

/// Cells along the longer side; more make queries cheaper and building dearer.
constexpr double kCellsAlong = 32;

std::size_t lowest(std::span<const Vec2> ring) {
  std::size_t at = 0;
  for (std::size_t i = 1; i < ring.size(); ++i) {
    if (ring[i].y < ring[at].y || (ring[i].y == ring[at].y && ring[i].x < ring[at].x)) at = i;
  }
  return at;
}

/// Minkowski sum of two convex rings: their edges merged by direction.
Ring convex_sum(std::span<const Vec2> a, std::span<const Vec2> b) {
  const std::size_t a0 = lowest(a);
  const std::size_t b0 = lowest(b);
  Ring sum;
  sum.reserve(a.size() + b.size());
  std::size_t i = 0;
  std::size_t k = 0;
  while (i < a.size() || k < b.size()) {
    const Vec2 pa = a[(a0 + i) % a.size()];
    const Vec2 pb = b[(b0 + k) % b.size()];
    sum.push_back(pa + pb);
    const double turn = cross(a[(a0 + i + 1) % a.size()] - pa, b[(b0 + k + 1) % b.size()] - pb);
    const bool step_a = i < a.size() && (k >= b.size() || turn >= 0);
    const bool step_b = k < b.size() && (i >= a.size() || turn <= 0);
    if (step_a) ++i;
    if (step_b) ++k;
  }
  return sum;
}

struct Edge {
  Vec2 point, normal;
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

/// Tangent sides at `at` that lead from direction `last` to `next` in steps of `widest_turn`.
void round_corner(Vec2 at, Vec2 last, Vec2 next, double clearance, double widest_turn,
                  std::vector<Edge>& edges) {
  const double turn = std::atan2(cross(last, next), dot(last, next));
  const auto steps = static_cast<int>(std::ceil(turn / widest_turn - 1e-9));
  for (int s = 1; s < steps; ++s) {
    const double angle = turn * s / steps;
    const Vec2 between = std::cos(angle) * last + std::sin(angle) * left_of(last);
    edges.push_back({at + clearance * between, between});
  }
}

Ring inflated(Ring ring, double clearance, double widest_turn) {
  ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
  while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
  const std::size_t n = ring.size();
  std::vector<Vec2> normals(n);
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 edge = ring[(i + 1) % n] - ring[i];
    normals[i] = -left_of(edge) / length(edge);
  }
  std::vector<Edge> edges;
  for (std::size_t i = 0; i < n; ++i) {
    round_corner(ring[i], normals[(i + n - 1) % n], normals[i], clearance, widest_turn, edges);
    edges.push_back({ring[i] + clearance * normals[i], normals[i]});
  }
  Ring out;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    out.push_back(corner(edges[(i + edges.size() - 1) % edges.size()], edges[i]));
  }
  return out;
}

inline double squared_distance(const PairField::Segment& s, Vec2 p) {
  const Vec2 d = p - s.from;
  const double t = std::min(std::max(dot(d, s.along), 0.0), s.length);
  return squared_length(d - t * s.along);
}

}  // namespace

Ring inflated_difference(std::span<const Vec2> a, std::span<const Vec2> b, double clearance,
                         double widest_turn) {
  Ring turned(b.begin(), b.end());
  for (Vec2& p : turned) p = -p;
  return inflated(convex_sum(a, turned), clearance, widest_turn);
}

PairField::PairField(std::vector<Ring> rings, double slack) : slack_(slack) {
  // Large rings first: they cover most of what does not belong to the boundary.
  std::stable_sort(rings.begin(), rings.end(), [](const Ring& a, const Ring& b) {
    return signed_area(std::span(a)) > signed_area(std::span(b));
  });
  for (const Ring& ring : rings) box_.add(bounding_box(std::span(ring)));
  add_half_planes(rings);
  add_boundary(rings);
  fill_cells();
}

void PairField::add_half_planes(const std::vector<Ring>& rings) {
  for (const Ring& ring : rings) {
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
void PairField::clip(Vec2 from, Vec2 to, std::size_t own) {
  const double size = distance(from, to);
  if (size == 0) return;
  const Vec2 along = (to - from) / size;
  Box span;
  span.add(from);
  span.add(to);
  std::vector<std::pair<double, double>> covered;
  for (std::size_t k = 0; k < parts_.size(); ++k) {
    if (k == own || !part_boxes_[k].touches(span)) continue;
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
    if (low <= 0 && high >= size) return;
    if (low < high) covered.emplace_back(low, high);
  }
  std::sort(covered.begin(), covered.end());
  double at = 0;
  covered.emplace_back(size, size);
  for (const auto& [low, high] : covered) {
    if (low > at) segments_.push_back({from + at * along, along, low - at});
    at = std::max(at, high);
  }
}

void PairField::add_boundary(const std::vector<Ring>& rings) {
  for (std::size_t k = 0; k < rings.size(); ++k) {
    const Ring& ring = rings[k];
    for (std::size_t i = 0; i < ring.size(); ++i) {
      clip(ring[i], ring[(i + 1) % ring.size()], k);
    }
  }
}

void PairField::fill_cells() {
  const double side = std::max(box_.width(), box_.height()) / kCellsAlong;
  columns_ = static_cast<std::size_t>(std::clamp(std::ceil(box_.width() / side), 1.0, 64.0));
  rows_ = static_cast<std::size_t>(std::clamp(std::ceil(box_.height() / side), 1.0, 64.0));
  per_x_ = static_cast<double>(columns_) / box_.width();
  per_y_ = static_cast<double>(rows_) / box_.height();
  cells_.reserve(columns_ * rows_);
  std::vector<double> distances(segments_.size());
  for (std::size_t row = 0; row < rows_; ++row) {
    for (std::size_t column = 0; column < columns_; ++column) {
      const auto x = static_cast<double>(column);
      const auto y = static_cast<double>(row);
      const Box cell{{box_.low.x + x / per_x_, box_.low.y + y / per_y_},
                     {box_.low.x + (x + 1) / per_x_, box_.low.y + (y + 1) / per_y_}};
      cells_.push_back(filled_cell(cell, distances));
    }
  }
}

/// Appends the words of one cell, or none when the cell is clear.
PairField::Cell PairField::filled_cell(const Box& cell, std::vector<double>& distances) {
  const Vec2 centre = cell.centre();
  const double hx = cell.width() / 2 * (1 + 1e-9);
  const double hy = cell.height() / 2 * (1 + 1e-9);
  const std::size_t start = words_.size();
  words_.push_back(0);
  for (std::size_t k = 0; k < parts_.size(); ++k) {
    if (!part_boxes_[k].touches(cell)) continue;
    const std::size_t group = words_.size();
    words_.push_back(0);
    bool clear = false;
    for (std::uint32_t h = parts_[k].first; h < parts_[k].last && !clear; ++h) {
      const HalfPlane& plane = half_planes_[h];
      const double at = plane.nx * centre.x + plane.ny * centre.y - plane.offset;
      const double reach = std::abs(plane.nx) * hx + std::abs(plane.ny) * hy;
      if (at - reach >= 0) clear = true;
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
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < segments_.size(); ++i) {
    distances[i] = std::sqrt(squared_distance(segments_[i], centre));
    nearest = std::min(nearest, distances[i]);
  }
  const std::size_t count = words_.size();
  words_.push_back(0);
  const double reach = nearest + 2 * std::hypot(hx, hy);
  for (std::size_t i = 0; i < segments_.size(); ++i) {
    if (distances[i] <= reach) words_.push_back(static_cast<std::uint32_t>(i));
  }
  words_[count] = static_cast<std::uint32_t>(words_.size() - count - 1);
  const double least = whole ? std::max(0.0, nearest - std::hypot(hx, hy)) : 0.0;
  return {static_cast<std::uint32_t>(start), static_cast<float>(least * (1 - 1e-6))};
}

std::size_t PairField::cell_of(Vec2 p) const {
  const auto column = static_cast<std::size_t>((p.x - box_.low.x) * per_x_);
  const auto row = static_cast<std::size_t>((p.y - box_.low.y) * per_y_);
  return std::min(row, rows_ - 1) * columns_ + std::min(column, columns_ - 1);
}

double PairField::depth_inside_box(Vec2 p, double enough) const {
  const Cell cell = cells_[cell_of(p)];
  if (cell.start == 0) return 0;
  if (static_cast<double>(cell.least) >= enough) return static_cast<double>(cell.least);
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
  if (!inside) return 0;
  double least = std::numeric_limits<double>::infinity();
  for (std::uint32_t count = *word++; count > 0; --count) {
    least = std::min(least, squared_distance(segments_[*word++], p));
  }
  return least > slack_ * slack_ ? std::sqrt(least) : 0;
}

void PairField::boundary_near(Vec2 p, std::vector<std::uint32_t>& out) const {
  if (!box_.contains(p)) return;
  const std::uint32_t start = cells_[cell_of(p)].start;
  if (start == 0) return;
  const std::uint32_t* word = words_.data() + start;
  for (std::uint32_t groups = *word++; groups > 0; --groups) word += *word + 1;
  const std::uint32_t count = *word++;
  out.insert(out.end(), word, word + count);
}

}  // namespace film::layout::detail
