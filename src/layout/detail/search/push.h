#pragma once

#include <optional>
#include <span>
#include <vector>

#include "layout/problem.h"
#include "layout/solution.h"
#include "layout/verify.h"

namespace film::layout::detail {

/// `pieces` after those that clash with a kept one, or with one to their left, have been pushed
/// along the strip away from it, and all that stand in their way with them, each by the least that
/// keeps every distance; fixed pieces and defects are jumped over. Pieces that a kept one covers
/// from the right, and those that break a rule by themselves, are left out. Nothing when the push
/// finds no end. Exact up to rounding: the caller
/// verifies the outcome.
/// `violations`: what verify says of the pieces as they lie.
/// Cost: the edges of pairs that could meet, times each other.
std::optional<std::vector<PlacedPiece>> pushed_aside(const Problem& prepared,
                                                     std::span<const PlacedPiece> pieces,
                                                     std::span<const PlacedPiece> kept,
                                                     const std::vector<Violation>& violations);

}  // namespace film::layout::detail
