#pragma once

#include <array>

#include "base/context.h"
#include "base/result.h"
#include "pattern/piece.h"

namespace film::pattern {

struct SplitOptions {
  Mm overlap{6};  ///< how far the part laid first reaches under the other; 0: the parts butt
};

/// Divides a piece along a line into the part on the line's left and the part on its right. Each
/// keeps the name, zone, grain, labels that lie in it and the stretches of its share of the edge,
/// and gets stretches "seam", "seam 2" ... of kind seam where it was divided. The left part,
/// "<id>_1", is laid first and carries the overlap as its seam's allowance; the right one,
/// "<id>_2", is cut at the line. `part_of` and
/// `laid` of the parts say what they are parts of and the order in which they are laid. A stretch
/// that a part holds in several runs is numbered. `cut` is the fold of the part and slits go: call
/// `extend`.
///
/// The line is an open chain in the piece's frame; it is carried on straight at both ends.
/// The folds of both parts together are the fold of the piece, to the grid of geometry/overlay.h.
/// Errors: invalid_input (fewer than two points, the line misses the piece, or a part would be in
/// several pieces). Cost: O(n m), n nodes of the parts, m of the piece.
Result<std::array<Piece, 2>> split(const Piece& piece, const Polyline& line,
                                   const SplitOptions& options = {}, const Context& context = {});

/// A straight line along or across the grain on which to divide a piece so that both parts fit a
/// roll: its seam is the shortest one in the middle three fifths of the piece that crosses the film
/// once. `widest` is the film's usable width; a piece whose grain runs along is measured across
/// it, any other by its shorter side. The cut of the piece counts, not its fold.
/// Errors: unsupported (no such line: divide by hand, or in several steps).
/// Cost: O(n) for each of a hundred or so lines.
Result<Polyline> proposed_line(const Piece& piece, Mm widest);

}  // namespace film::pattern
