#pragma once

#include <functional>
#include <span>
#include <vector>

#include "layout/problem.h"
#include "layout/solution.h"

namespace film::layout::detail {

/// Some copies of a problem as a problem of their own: the same items, fewer copies, numbered
/// afresh.
class Subset {
 public:
  Subset(const Problem& whole, const std::function<bool(std::size_t item, int copy)>& in);

  [[nodiscard]] const Problem& problem() const { return problem_; }
  /// Those of the whole's pieces that are in the subset.
  [[nodiscard]] std::vector<PlacedPiece> into(std::span<const PlacedPiece> pieces) const;
  [[nodiscard]] std::vector<PlacedPiece> out_of(std::span<const PlacedPiece> pieces) const;
  [[nodiscard]] std::vector<Unplaced> out_of(std::span<const Unplaced> pieces) const;

 private:
  Problem problem_;
  std::vector<std::vector<int>> copies_;  // of each item, in the whole's numbers
};

}  // namespace film::layout::detail
