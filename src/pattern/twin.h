#pragma once

#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "pattern/allowance.h"
#include "pattern/piece.h"

namespace film::pattern {

/// The same piece for the other side: everything mirrored across the grain axis (y -> -y), so that
/// +x stays along the grain. Edge stretches keep name, kind and allowance, corners stay at their
/// vertices, slits still run from the cut edge inwards, labels stay readable. `id`, `name`, `zone`
/// and `twin_of` are kept. mirrored(mirrored(p)) == p.
Piece mirrored(const Piece& piece);

/// What a twin is called.
struct TwinNames {
  std::string id;
  std::string name;
  std::string zone;
};

/// Names with left and right exchanged, in ids ("door_front_left"), names ("Left door") and zones,
/// upper or lower case; a name without a side gets "_twin" (id) or ", other side".
TwinNames other_side(const Piece& piece);

/// The mirrored piece under its own names, with `twin_of` set to the id of `piece`; it follows.
Piece twin(const Piece& piece, TwinNames names);
inline Piece twin(const Piece& piece) { return twin(piece, other_side(piece)); }

/// The twin made anew from its original: mirrored, with the twin's own names, and its asymmetries
/// laid over the mirrored fold in their order. Where an asymmetry changes the outline, stretches
/// that are left keep theirs and the new edge becomes a stretch with the asymmetry's name, kind
/// and allowance; the cut is then extended anew with `options`, else it is the original's cut,
/// mirrored. An asymmetry that changes nothing here stays listed.
/// Errors: invalid_input, naming twin and asymmetry (an outline that is no area, an area that
/// leaves nothing of the piece, parts it or lies apart from it); those of `extend`.
Result<Piece> followed(const Piece& original, const Piece& twin, const ExtendOptions& options = {},
                       const Context& context = {});

/// Makes every twin that follows anew from its original in the same set, originals first. A twin
/// whose original is not there stays as it is. Errors: those of `followed`; invalid_input when
/// pieces follow each other in a ring. Nothing is changed on failure.
Result<void> follow(std::vector<Piece>& pieces, const ExtendOptions& options = {},
                    const Context& context = {});

/// The twin as a piece of its own: it keeps its shape and follows no more.
Piece detached(Piece twin);

/// The parts in which a twin follows its original, once that was divided (pattern/split.h): each
/// mirrors one part and keeps the asymmetries that can be laid over it.
Result<std::vector<Piece>> divided_like(const Piece& twin, const std::vector<Piece>& parts,
                                        const ExtendOptions& options = {},
                                        const Context& context = {});

}  // namespace film::pattern
