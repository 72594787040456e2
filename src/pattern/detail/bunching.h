#pragma once

#include <cstddef>
#include <vector>

#include "pattern/detail/fold_line.h"

namespace film::pattern::detail {

/// A short part of a tucked fold line, smooth bends spread over the tuck's width.
struct Part {
  std::size_t node = 0;     ///< at the start of its edge
  double from = 0, to = 0;  ///< along the fold line, mm
  double curvature = 0;     ///< 1/mm, positive where the fold bends outward
  double allowance = 0;     ///< mm

  [[nodiscard]] double length() const { return to - from; }
  /// Surplus (> 0) or lack (< 0) of the tuck's edge, mm.
  [[nodiscard]] double misfit() const { return 2 * allowance * curvature * length(); }
  /// Share by which the tuck's edge must shorten (> 0) or lengthen (< 0).
  [[nodiscard]] double strain() const;
};

/// A line of neighbouring parts that no corner and no edge without a tuck interrupts.
using Run = std::vector<Part>;

bool is_corner(const FoldNode& node, const ExtendOptions& options);

std::vector<Run> runs(const FoldLine& line, const ExtendOptions& options);

/// Where along a fold line relief slits are needed.
struct SlitPlace {
  double along = 0;
  std::size_t edge = 0;
};
std::vector<SlitPlace> slit_places(const FoldLine& line, const std::vector<Run>& runs,
                                   const ExtendOptions& options);

}  // namespace film::pattern::detail
