#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "layout/problem.h"
#include "layout/solution.h"

namespace film::layout {

struct SolveOptions {
  std::uint64_t seed = 1;
  /// Passes of the search over the pieces. 0: a few thousand, or, when `share_spent` is there,
  /// until the context asks to stop.
  std::uint64_t iteration_limit = 0;
  /// A layout to begin from (given or edited). It may be invalid or miss pieces: the search
  /// mends it. Empty: the search makes its own.
  std::vector<PlacedPiece> start = {};
  /// Pieces that must lie exactly here.
  std::vector<PlacedPiece> locked = {};
  /// Hears of every better valid layout, in order, from the thread that called solve.
  std::function<void(const Solution&)> on_better = {};
  /// How much of the time is spent, 0 to 1; the search first explores, then compresses. Without
  /// it the share of iteration_limit is used.
  std::function<double()> share_spent = {};
};

/// Lays all copies of all items on the strip so that little length is used: no two pieces nearer
/// than the gap, all inside, turns as allowed. Anytime: a constructed layout comes at once,
/// better ones follow, and the best so far is returned when the context asks to stop. What is
/// returned passes `verify`. Pieces that cannot be laid (too wide, past the maximum length) are
/// in `unplaced` with the reason.
/// Determinism: with an iteration limit, the result depends on problem, options and nothing else
/// (not on time or threads).
/// Errors: invalid_input, too_large (see fault_of); conflict when locked pieces break the rules
/// among themselves.
/// Method: overlap minimisation by guided local search on a shrinking strip; see
/// docs/algorithms/layout.md. Parallel over context.executor().
Result<Solution> solve(const Problem& problem, const SolveOptions& options, const Context& context);

}  // namespace film::layout
