#pragma once

#include <string>

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

/// The mirrored piece under its own names, with `twin_of` set to the id of `piece`.
Piece twin(const Piece& piece, TwinNames names);
inline Piece twin(const Piece& piece) { return twin(piece, other_side(piece)); }

}  // namespace film::pattern
