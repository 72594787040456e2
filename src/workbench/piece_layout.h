#pragma once

#include <span>
#include <vector>

#include "exchange/layout_json.h"
#include "layout/problem.h"
#include "pattern/piece.h"

namespace film::workbench {

/// What is laid of the pieces: each once, by its cut edge, turned as its grain allows, with its
/// zone as group. The items keep the order of the pieces.
std::vector<layout::Item> items_of(std::span<const pattern::Piece> pieces);

/// Adds the relief slits of the pieces to a sheet of theirs, where each piece lies.
void carry_slits(std::span<const pattern::Piece> pieces, exchange::LayoutSheet& sheet);

}  // namespace film::workbench
