#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "exchange/layout_json.h"
#include "layout/problem.h"
#include "layout/solution.h"
#include "pattern/piece.h"

namespace film::workbench {

/// What is laid of the pieces: each once, by its cut edge, turned as its grain allows, with its
/// zone as group. The items keep the order of the pieces.
std::vector<layout::Item> items_of(std::span<const pattern::Piece> pieces);

/// The pieces of a sheet as placements of the problem's items, in the sheet's order; outlines are
/// not looked at. Errors: invalid_input naming a piece that the problem lacks, as `where`.
Result<std::vector<layout::PlacedPiece>> placements_of(const layout::Problem& problem,
                                                       std::span<const exchange::LaidPiece> pieces,
                                                       const std::string& where);

/// Faulty places of film as a strip takes them.
std::vector<Polygon> defects_of(std::span<const Box> boxes);

/// Labels the pieces of a sheet with their names.
void carry_names(std::span<const pattern::Piece> pieces, exchange::LayoutSheet& sheet);

/// Adds the relief slits of the pieces to a sheet of theirs, where each piece lies.
void carry_slits(std::span<const pattern::Piece> pieces, exchange::LayoutSheet& sheet);

}  // namespace film::workbench
