#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "geometry/vec.h"
#include "pattern/piece.h"
#include "surface/laying.h"

namespace film::workbench {

/// What is worth keeping of a study; the rest follows from it quickly.
struct FlatPiece {
  std::vector<Vec2> flat;
  std::size_t iterations = 0;
  pattern::Piece piece;
  surface::Laying laying;
};

std::string flat_piece_to_bytes(const FlatPiece& result);
/// Errors: invalid_input (not such bytes).
Result<FlatPiece> flat_piece_from_bytes(std::string_view bytes);

}  // namespace film::workbench
