#include "workbench/piece_layout.h"

#include <map>
#include <numbers>
#include <string>
#include <string_view>

#include "base/text.h"

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

Result<std::vector<layout::PlacedPiece>> placements_of(const layout::Problem& problem,
                                                       std::span<const exchange::LaidPiece> pieces,
                                                       const std::string& where) {
  std::map<std::string_view, std::size_t> by_id;
  for (const layout::Item& item : problem.items) by_id.emplace(item.id, by_id.size());
  std::vector<layout::PlacedPiece> placements;
  for (const exchange::LaidPiece& piece : pieces) {
    const auto at = by_id.find(piece.item);
    if (at == by_id.end() || piece.copy < 0 || piece.copy >= problem.items[at->second].quantity) {
      return fail(ErrorCode::invalid_input,
                  format("there is no such piece to lay: {} ({})", piece.item, piece.copy), where);
    }
    placements.push_back({at->second, piece.copy,
                          Placement{Angle::from_degrees(piece.rotation_deg).radians, piece.move}});
  }
  return placements;
}

std::vector<Polygon> defects_of(std::span<const Box> boxes) {
  std::vector<Polygon> defects;
  for (const Box& box : boxes) {
    defects.push_back({{box.low, {box.high.x, box.low.y}, box.high, {box.low.x, box.high.y}}, {}});
  }
  return defects;
}

void carry_names(std::span<const pattern::Piece> pieces, exchange::LayoutSheet& sheet) {
  std::map<std::string_view, const pattern::Piece*> by_id;
  for (const pattern::Piece& piece : pieces) by_id[piece.id] = &piece;
  for (exchange::LaidPiece& laid : sheet.pieces) laid.label = by_id.at(laid.item)->name;
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
