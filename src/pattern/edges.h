#pragma once

#include <span>
#include <vector>

#include "base/units.h"
#include "pattern/piece.h"

namespace film::pattern {

struct DivideOptions {
  Angle corner{0.52};  ///< a bend sharper than this divides (0.52: 30 degrees)
  Mm window{8};        ///< bends are judged over this length, so that rounded corners count
  Mm shortest{15};     ///< a stretch shorter than this joins its neighbour
};

/// Vertices at which a ring divides into stretches: its corners, ascending. A ring without corners
/// gives one index, the vertex furthest to the left.
std::vector<std::size_t> corners(std::span<const Vec2> ring, const DivideOptions& options = {});

/// Stretches for every ring of a fold line: outer ones "edge 1" ... of kind gap, those of openings
/// "opening 1" ... of kind cutout, each with its kind's default allowance.
std::vector<EdgeStretch> divide(const Polygon& fold, const DivideOptions& options = {});

/// A piece made of a bare outline: divided edges, cut equal to the fold.
Piece piece_from_outline(std::string id, Polygon fold, const DivideOptions& options = {});

}  // namespace film::pattern
