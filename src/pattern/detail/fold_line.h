#pragma once

#include <cstddef>
#include <vector>

#include "pattern/allowance.h"
#include "pattern/piece.h"

namespace film::pattern::detail {

/// A node of a fold line with the allowances (mm) that reach it from both sides.
struct FoldNode {
  Vec2 at;
  double before = 0;     ///< allowance of the edge that ends here
  double after = 0;      ///< allowance of the edge that starts here
  double turn = 0;       ///< bend of the line here, radians, positive to the left
  double along = 0;      ///< way from the start of the ring's first stretch, mm
  std::size_t edge = 0;  ///< index in Piece::edges of the stretch that starts or goes on here
  bool stretch_starts = false;
  Corner corner = Corner::round;  ///< treatment, should this be a corner
};

/// The closed fold line of one ring from the start of its first stretch, with a node wherever the
/// allowance changes its course: no edge goes from held back to extended.
struct FoldLine {
  std::vector<FoldNode> nodes;
  double length = 0;

  [[nodiscard]] const FoldNode& next(std::size_t i) const {
    return nodes[i + 1 == nodes.size() ? 0 : i + 1];
  }
  [[nodiscard]] const FoldNode& last(std::size_t i) const {
    return nodes[i == 0 ? nodes.size() - 1 : i - 1];
  }
};

/// One line a ring, in the order of the rings. Edges must pass check_edges.
std::vector<FoldLine> fold_lines(const Piece& piece, const ExtendOptions& options);

/// Unit normal to the outside of a fold edge.
Vec2 outward(Vec2 from, Vec2 to);
/// Unit direction half way between the outward normals of the edges that meet at node i.
Vec2 outward_at(const FoldLine& line, std::size_t i);

/// Relief slits of a piece whose `cut` is made.
std::vector<Polyline> relief_slits(const Piece& piece, const std::vector<FoldLine>& lines,
                                   const ExtendOptions& options);

}  // namespace film::pattern::detail
