#include "layout/detail/search/subset.h"

#include <algorithm>

namespace film::layout::detail {

Subset::Subset(const Problem& whole, const std::function<bool(std::size_t item, int copy)>& in)
    : problem_(whole) {
  for (std::size_t i = 0; i < whole.items.size(); ++i) {
    std::vector<int>& copies = copies_.emplace_back();
    for (int copy = 0; copy < whole.items[i].quantity; ++copy) {
      if (in(i, copy)) copies.push_back(copy);
    }
    problem_.items[i].quantity = static_cast<int>(copies.size());
  }
}

std::vector<PlacedPiece> Subset::into(std::span<const PlacedPiece> pieces) const {
  std::vector<PlacedPiece> out;
  for (PlacedPiece piece : pieces) {
    if (piece.item >= copies_.size()) continue;
    const std::vector<int>& copies = copies_[piece.item];
    const auto at = std::find(copies.begin(), copies.end(), piece.copy);
    if (at == copies.end()) continue;
    piece.copy = static_cast<int>(at - copies.begin());
    out.push_back(piece);
  }
  return out;
}

std::vector<PlacedPiece> Subset::out_of(std::span<const PlacedPiece> pieces) const {
  std::vector<PlacedPiece> out(pieces.begin(), pieces.end());
  for (PlacedPiece& p : out) p.copy = copies_[p.item][static_cast<std::size_t>(p.copy)];
  return out;
}

std::vector<Unplaced> Subset::out_of(std::span<const Unplaced> pieces) const {
  std::vector<Unplaced> out(pieces.begin(), pieces.end());
  for (Unplaced& p : out) p.copy = copies_[p.item][static_cast<std::size_t>(p.copy)];
  return out;
}

}  // namespace film::layout::detail
