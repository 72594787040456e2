#include "workbench/piece_layout.h"

#include <map>
#include <numbers>
#include <string>

namespace film::workbench {
namespace {

std::vector<Angle> turns_of(pattern::Grain grain) {
  constexpr double kQuarter = std::numbers::pi / 2;
  switch (grain) {
    case pattern::Grain::along: return {Angle{0}, Angle{2 * kQuarter}};
    case pattern::Grain::square:
      return {Angle{0}, Angle{kQuarter}, Angle{2 * kQuarter}, Angle{3 * kQuarter}};
    case pattern::Grain::free: return {};
  }
  return {};
}

}  // namespace

std::vector<layout::Item> items_of(std::span<const pattern::Piece> pieces) {
  std::vector<layout::Item> items;
  for (const pattern::Piece& piece : pieces) {
    items.push_back({piece.id, piece.cut, 1, turns_of(piece.grain), piece.zone});
  }
  return items;
}

void carry_slits(std::span<const pattern::Piece> pieces, exchange::LayoutSheet& sheet) {
  std::map<std::string, const pattern::Piece*> by_id;
  for (const pattern::Piece& piece : pieces) by_id[piece.id] = &piece;
  for (exchange::LaidPiece& laid : sheet.pieces) {
    const Placement placement{Angle::from_degrees(laid.rotation_deg).radians, laid.move};
    laid.slits.clear();
    for (const Polyline& slit : by_id.at(laid.item)->slits) {
      laid.slits.push_back(apply(placement, std::span(slit)));
    }
  }
}

}  // namespace film::workbench
