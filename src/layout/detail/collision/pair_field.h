#pragma once

#include <algorithm>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "geometry/box.h"
#include "geometry/polygon.h"
#include "layout/detail/collision/convex_parts.h"

namespace film::layout::detail {

/// One convex piece of a no-fit region: a counter-clockwise ring, and for each of its sides (from
/// corner i to i + 1) whether it may lie on the region's boundary.
struct ConvexSum {
  Ring ring;
  std::vector<char> outer;
};

/// The convex ring {a - b + r: a in A, b in B, |r| <= clearance}, never too small: round corners
/// are replaced by tangent ones whose sides turn by at most `widest_turn` radians. A side may be
/// on the boundary only where a side of one outline meets a corner of the other that is convex
/// and turned that way; cuts between parts never are. B is given negated.
ConvexSum inflated_sum(const ConvexPart& a, const ConvexPart& negated_b, double clearance,
                       double widest_turn);

/// All relative positions at which two pieces in fixed turns are too near (the no-fit region), with
/// the depth of each: how far the moving piece must go, by the shortest way, to be clear. The
/// region is a union of convex rings; it is never formed as a polygon, so exact contacts and
/// touching slits need no special care.
///
/// A position is answered in a few dozen nanoseconds: a grid over the region lists, for each cell,
/// only the half-planes that cross it and the boundary pieces that can be nearest to it.
class PairField {
 public:
  /// Sums inflated by more than `slack`. Boundary that lies within half of it of another ring's
  /// edge is kept, and depths below it count as clear, so a position computed on the boundary is
  /// clear whatever the rounding. `cells_along`, at most 64: cells along the longer side; more make
  /// queries cheaper and the field dearer. O(n) in sums of a few neighbours each.
  PairField(std::vector<ConvexSum> sums, double slack, double cells_along);

  /// Depth at `p`, 0 when clear. A depth known to be at least `enough` may be told as any value
  /// not below `enough`; that is cheaper.
  [[nodiscard]] double depth(Vec2 p,
                             double enough = std::numeric_limits<double>::infinity()) const {
    if (!box_.contains(p)) return 0;
    return depth_inside_box(p, enough);
  }
  [[nodiscard]] const Box& box() const { return box_; }
  /// About the depth of a position: that of its cell's middle, in steps of a 255th of the greatest.
  /// Cells divide the box evenly; they follow row by row.
  struct Rough {
    std::uint32_t columns = 1;
    std::uint32_t rows = 1;
    double step = 0;
    std::vector<std::uint8_t> steps;
  };
  [[nodiscard]] const Rough& rough() const { return rough_; }

  /// A piece of the region's boundary.
  struct Segment {
    Vec2 from;
    Vec2 along;  ///< unit
    double length = 0;
  };
  [[nodiscard]] std::span<const Segment> boundary() const { return segments_; }
  /// The shortest way from `p` out of the region.
  struct WayOut {
    double depth = 0;
    Vec2 to;      ///< on the boundary
    Vec2 inward;  ///< unit: how the depth grows at `p`
  };
  [[nodiscard]] WayOut way_out(Vec2 p) const;

 private:
  struct HalfPlane {
    double nx, ny, offset;  // inside: nx x + ny y < offset
  };
  struct Span {
    std::uint32_t first, last;
  };

  struct Cell {
    std::uint32_t start = 0;  // of its words; 0 for a cell that is clear
    float least = 0;          // no depth in a cell is less; 0 where some of it is clear
  };

  class Blocks;
  struct Nearby;

  [[nodiscard]] double depth_inside_box(Vec2 p, double enough) const;
  struct Nearest {
    const Segment* segment = nullptr;
    double squared = 0;  // distance
  };
  [[nodiscard]] Nearest nearest(const Cell& cell, Vec2 p) const;
  [[nodiscard]] std::size_t cell_of(Vec2 p) const {
    const auto column = static_cast<std::uint32_t>((p.x - box_.low.x) * per_x_);
    const auto row = static_cast<std::uint32_t>((p.y - box_.low.y) * per_y_);
    return std::min(row, rows_ - 1) * columns_ + std::min(column, columns_ - 1);
  }
  void fill_rough();
  [[nodiscard]] Box cell_box(std::size_t column, std::size_t row) const;
  void lay_cells(double cells_along);
  void add_half_planes(const std::vector<ConvexSum>& sums);
  void add_boundary(const std::vector<ConvexSum>& sums, Blocks& blocks);
  void clip(Vec2 from, Vec2 to, std::size_t own, Blocks& blocks);
  void fill_cells(const Blocks& blocks);
  Cell filled_cell(const Box& cell, Nearby& nearby);

  Box box_;
  std::vector<HalfPlane> half_planes_;
  std::vector<Span> parts_;  // of half_planes_, one for each ring
  std::vector<Box> part_boxes_;
  std::vector<Segment> segments_;
  double slack_ = 0;
  std::uint32_t columns_ = 1;
  std::uint32_t rows_ = 1;
  double per_x_ = 0;  // cells per unit
  double per_y_ = 0;
  std::vector<Cell> cells_;
  Rough rough_;
  // Words: number of groups,
  // then for each group a count and that many half-planes; number of segments, then those. A point
  // is inside when it is inside all half-planes of one group.
  std::vector<std::uint32_t> words_{0};
};

}  // namespace film::layout::detail
