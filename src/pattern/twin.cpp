#include "pattern/twin.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstddef>
#include <span>
#include <string_view>
#include <utility>

namespace film::pattern {
namespace {

/// Stretches of one ring, given in order: each runs the other way, so it starts where the next
/// one did and takes over that corner.
void mirror_ring(std::span<const EdgeStretch> edges, std::size_t ring_size,
                 std::vector<EdgeStretch>& out) {
  const std::size_t start = out.size();
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const EdgeStretch& next = edges[(i + 1) % edges.size()];
    EdgeStretch edge = edges[i];
    edge.first = (ring_size - next.first) % ring_size;
    edge.corner = next.corner;
    out.push_back(std::move(edge));
  }
  std::sort(out.begin() + static_cast<std::ptrdiff_t>(start), out.end(),
            [](const EdgeStretch& a, const EdgeStretch& b) { return a.first < b.first; });
}

struct Exchange {
  std::string_view left, right;
};
constexpr std::array<Exchange, 3> kSides{{{"left", "right"}, {"Left", "Right"}, {"LEFT", "RIGHT"}}};

bool is_letter(char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; }

/// Exchanges whole words only: "bright" has no side.
std::string exchanged(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const bool word_starts = i == 0 || !is_letter(text[i - 1]);
    bool found = false;
    for (const auto& [left, right] : kSides) {
      for (const auto& [from, to] : {std::pair(left, right), std::pair(right, left)}) {
        const std::size_t end = i + from.size();
        if (found || !word_starts || text.substr(i, from.size()) != from) continue;
        if (end < text.size() && is_letter(text[end])) continue;
        out += to;
        i = end;
        found = true;
      }
    }
    if (!found) out += text[i++];
  }
  return out;
}

}  // namespace

Piece mirrored(const Piece& piece) {
  Piece result = piece;
  result.fold = film::mirrored(piece.fold);
  result.cut = film::mirrored(piece.cut);
  result.edges.clear();
  for (std::size_t i = 0; i < piece.edges.size();) {
    std::size_t end = i;
    while (end < piece.edges.size() && piece.edges[end].ring == piece.edges[i].ring) ++end;
    mirror_ring(std::span(piece.edges).subspan(i, end - i),
                ring_of(piece.fold, piece.edges[i].ring).size(), result.edges);
    i = end;
  }
  for (Polyline& slit : result.slits) {
    for (Vec2& p : slit) p.y = -p.y;
  }
  for (Label& label : result.labels) {
    label.at.y = -label.at.y;
    label.turn.radians = -label.turn.radians;
  }
  return result;
}

TwinNames other_side(const Piece& piece) {
  TwinNames names{exchanged(piece.id), exchanged(piece.name), exchanged(piece.zone)};
  if (names.id == piece.id) names.id += "_twin";
  if (names.name == piece.name) names.name += ", other side";
  return names;
}

Piece twin(const Piece& piece, TwinNames names) {
  Piece result = mirrored(piece);
  result.twin_of = piece.id;
  result.id = std::move(names.id);
  result.name = std::move(names.name);
  result.zone = std::move(names.zone);
  for (Label& label : result.labels) label.text = exchanged(label.text);
  return result;
}

}  // namespace film::pattern
