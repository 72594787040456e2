#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "layout/problem.h"
#include "layout/solution.h"
#include "layout/verify.h"

namespace film::layout {

/// What would be wrong with the piece at `index` of `placements` if it lay at `proposed`: the
/// rules of `verify` that concern it (overlap, gap, edges, defects, frames, turn), judged exactly,
/// with the index of the piece it clashes with. Empty: it may lie there. For a hand that drags a
/// piece: a millisecond or two among 300 pieces of a hundred corners.
std::vector<Violation> clashes_at(const Problem& problem, std::span<const PlacedPiece> placements,
                                  std::size_t index, const Placement& proposed);

/// A valid layout with the `kept` pieces exactly where they are. Of two ways the shorter: pieces of
/// `placements` that clash are pushed along the strip by the least that will do, with all that
/// stand in their way; or those that clash are laid anew where there is room, and all others stay.
/// Missing pieces are laid too. Groups in turn are laid by a short search with that seed.
/// Errors: invalid_input (see fault_of; a kept piece unknown), conflict when the kept pieces
/// break the rules among themselves.
Result<Solution> make_room(const Problem& problem, std::span<const PlacedPiece> placements,
                           std::span<const PlacedPiece> kept, std::uint64_t seed,
                           const Context& context);

}  // namespace film::layout
