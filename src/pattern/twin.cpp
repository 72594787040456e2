#include "pattern/twin.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstddef>
#include <map>
#include <span>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "geometry/overlay.h"
#include "pattern/detail/carried_over.h"

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

std::string place_of(const Piece& twin, const Asymmetry& asymmetry) {
  return format("piece \"{}\" asymmetry \"{}\"", twin.id, asymmetry.name);
}

/// The fold with one asymmetry laid over it.
Result<Polygon> overlaid(const Piece& piece, const Asymmetry& asymmetry, const Context& context) {
  const std::string where = place_of(piece, asymmetry);
  const auto outline = make_polygon(asymmetry.outline);
  if (!outline) {
    return fail(ErrorCode::invalid_input, "its outline is no area: " + outline.error().what, where,
                "Draw it as one closed line that does not cross itself");
  }
  const bool removes = asymmetry.effect == Asymmetry::Effect::removes;
  Overlay overlay;
  overlay.add(0, piece.fold);
  overlay.add(1, *outline);
  auto regions = overlay.region(
      [removes](const Overlay::Windings& w) {
        return removes ? w[0] > 0 && w[1] <= 0 : w[0] > 0 || w[1] > 0;
      },
      context);
  if (!regions) return Failure(regions.error());
  constexpr double kCrumb = 0.01;  // mm^2
  std::erase_if(*regions, [](const Polygon& p) { return area(p) < kCrumb; });
  if (regions->empty()) {
    return fail(ErrorCode::invalid_input, "it leaves nothing of the piece", where,
                "Draw it smaller");
  }
  if (regions->size() > 1) {
    return fail(ErrorCode::invalid_input,
                removes ? "it parts the piece" : "it lies apart from the piece", where,
                removes ? "Divide the piece instead" : "Draw it so that it meets the piece");
  }
  return std::move(regions->front());
}

/// Lays all asymmetries over the mirrored piece; says whether that changed its outline.
Result<bool> lay_over(Piece& piece, const Context& context) {
  bool changed = false;
  for (const Asymmetry& asymmetry : piece.asymmetries) {
    auto fold = overlaid(piece, asymmetry, context);
    if (!fold) return Failure(fold.error());
    if (std::abs(area(*fold) - area(piece.fold)) < 1e-6) continue;
    piece.edges = detail::carried_over(
        piece, *fold, {asymmetry.name, asymmetry.kind, 0, 0, asymmetry.allowance, Corner::round});
    piece.fold = std::move(*fold);
    changed = true;
  }
  return changed;
}

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
  for (Asymmetry& asymmetry : result.asymmetries) {
    asymmetry.outline = film::mirrored(Polygon{std::move(asymmetry.outline), {}}).outer;
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
  result.follows = true;
  result.asymmetries.clear();
  result.id = std::move(names.id);
  result.name = std::move(names.name);
  result.zone = std::move(names.zone);
  for (Label& label : result.labels) label.text = exchanged(label.text);
  return result;
}

Result<Piece> followed(const Piece& original, const Piece& twin, const ExtendOptions& options,
                       const Context& context) {
  Piece result = pattern::twin(original, {twin.id, twin.name, twin.zone});
  result.asymmetries = twin.asymmetries;
  result.part_of = twin.part_of;
  result.laid = twin.laid;
  const auto changed = lay_over(result, context);
  if (!changed) return Failure(changed.error());
  if (!*changed) return result;
  std::erase_if(result.labels, [&result](const Label& label) {
    return side_of(result.fold, label.at) == Side::outside;
  });
  return extend(std::move(result), options, context);
}

Result<void> follow(std::vector<Piece>& pieces, const ExtendOptions& options,
                    const Context& context) {
  std::map<std::string, std::size_t> place;
  for (std::size_t i = 0; i < pieces.size(); ++i) place.emplace(pieces[i].id, i);
  std::vector<Piece> made = pieces;
  enum class State { waiting, on_the_way, done };
  std::vector<State> states(pieces.size(), State::waiting);
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    // A twin's original may be a twin itself: walk to the end of the line, then make them in turn.
    std::vector<std::size_t> line;
    for (std::size_t at = i; states[at] != State::done;) {
      if (states[at] == State::on_the_way) {
        return fail(ErrorCode::invalid_input, "pieces follow each other in a ring",
                    format("piece \"{}\"", pieces[at].id), "Detach one of them");
      }
      states[at] = State::on_the_way;
      line.push_back(at);
      const auto original = place.find(made[at].twin_of);
      if (!made[at].follows || original == place.end()) break;
      at = original->second;
    }
    for (; !line.empty(); line.pop_back()) {
      Piece& piece = made[line.back()];
      const auto original = place.find(piece.twin_of);
      if (piece.follows && original != place.end()) {
        auto anew = followed(made[original->second], piece, options, context);
        if (!anew) return Failure(anew.error());
        piece = std::move(*anew);
      }
      states[line.back()] = State::done;
    }
  }
  pieces = std::move(made);
  return {};
}

Piece detached(Piece twin) {
  twin.follows = false;
  twin.asymmetries.clear();
  return twin;
}

Result<std::vector<Piece>> divided_like(const Piece& twin, const std::vector<Piece>& parts,
                                        const ExtendOptions& options, const Context& context) {
  std::vector<Piece> result;
  for (const Piece& part : parts) {
    Piece other =
        pattern::twin(part, {format("{}_{}", twin.id, result.size() + 1),
                             format("{}, part {}", twin.name, result.size() + 1), twin.zone});
    other.part_of = twin.part_of.empty() ? twin.id : twin.part_of;
    for (const Asymmetry& asymmetry : twin.asymmetries) {
      other.asymmetries.push_back(asymmetry);
      if (!overlaid(other, asymmetry, context)) other.asymmetries.pop_back();
    }
    auto made = followed(part, other, options, context);
    if (!made) return Failure(made.error());
    result.push_back(std::move(*made));
  }
  return result;
}

}  // namespace film::pattern
