#pragma once

#include <span>
#include <vector>

#include "layout/detail/search/arrangement.h"
#include "layout/detail/search/first_layout.h"
#include "layout/problem.h"
#include "layout/solution.h"
#include "layout/verify.h"

namespace film::layout::detail {

/// The problem as the search takes it: every item names its turns, frames have become defects,
/// and items that fit in no turn have quantity 0 and are answered in `unplaced`.
struct Prepared {
  Problem problem;
  std::vector<Unplaced> unplaced;
};
Prepared prepared(const Problem& problem);

/// Bodies of the pieces, in their order, then of the defects. Locked pieces are fixed as they lie,
/// the others take the nearest of their poses. Must be called before any field is made.
std::vector<Body> bodies_of(Engine& engine, std::span<const PlacedPiece> pieces,
                            std::span<const PlacedPiece> locked);

/// The pieces where their bodies are; fixed ones as they were.
std::vector<PlacedPiece> pieces_of(const Engine& engine, std::vector<PlacedPiece> pieces,
                                   std::span<const Body> bodies);

/// `locked`, and the pieces of `given` that the problem knows, each copy once; those whose middle
/// lies before `first_middle` are left out.
std::vector<PlacedPiece> known_pieces(const Problem& problem, std::span<const PlacedPiece> given,
                                      std::span<const PlacedPiece> locked, double first_middle);

/// What verify says of some of the problem's pieces; those not there are no violation.
std::vector<Violation> violations_among(const Problem& problem, std::vector<PlacedPiece> pieces);

/// As many of the `known` pieces as break no rule, and the other pieces laid where there is room:
/// those that clash give way to each other and to `locked`. `violations`: what violations_among
/// says of the known ones. Locks must be valid among themselves.
FirstLayout mended_layout(const Problem& prepared, std::span<const PlacedPiece> known,
                          const std::vector<Violation>& violations,
                          std::span<const PlacedPiece> locked, double first_middle);

}  // namespace film::layout::detail
