#include "pattern/split.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/text.h"
#include "geometry/overlay.h"
#include "pattern/detail/carried_over.h"

namespace film::pattern {
namespace {

/// Everything to the left of the line, far past the piece.
Ring left_side(const Polyline& line, const Box& box) {
  const double far = 4 * (box.width() + box.height()) + distance(box.centre(), line.front()) +
                     distance(box.centre(), line.back()) + length_of(line);
  const Vec2 arriving = line.back() - line[line.size() - 2];
  const Vec2 leaving = line[1] - line[0];
  Ring ring;
  ring.push_back(line.front() - (far / length(leaving)) * leaving);
  ring.insert(ring.end(), line.begin(), line.end());
  ring.push_back(line.back() + (far / length(arriving)) * arriving);
  const Vec2 along = line.back() - line.front();
  const Vec2 left = (far / length(along)) * left_of(along);
  ring.push_back(ring.back() + left);
  ring.push_back(ring.front() + left);
  return ring;
}

/// Crossings of the ring's edges with the line coordinate = at, along the other coordinate.
void add_crossings(const Ring& ring, double Vec2::*coordinate, double Vec2::*other, double at,
                   std::vector<double>& crossings) {
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = ring[i];
    const Vec2 b = ring[(i + 1) % ring.size()];
    if ((a.*coordinate > at) == (b.*coordinate > at)) continue;
    const double share = (at - a.*coordinate) / (b.*coordinate - a.*coordinate);
    crossings.push_back(a.*other + share * (b.*other - a.*other));
  }
}

Result<Piece> part_of(const Piece& whole, std::vector<Polygon> regions, std::size_t number,
                      Mm seam) {
  constexpr double kCrumb = 0.01;  // mm^2
  std::erase_if(regions, [](const Polygon& p) { return area(p) < kCrumb; });
  const std::string where = format("piece \"{}\"", whole.id);
  if (regions.empty()) {
    return fail(ErrorCode::invalid_input, "the line does not divide the piece", where,
                "Draw it from edge to edge");
  }
  if (regions.size() > 1) {
    return fail(ErrorCode::invalid_input,
                format("one side of the line would be {} pieces", regions.size()), where,
                "Divide it in several steps");
  }
  Piece part = whole;
  part.id = format("{}_{}", whole.id, number);
  part.name = format("{}, part {}", whole.name, number);
  part.fold = std::move(regions.front());
  part.cut = part.fold;
  part.slits.clear();
  part.part_of = whole.part_of.empty() ? whole.id : whole.part_of;
  part.laid = std::max<std::size_t>(whole.laid, 1) + number - 1;
  part.edges =
      detail::carried_over(whole, part.fold, {"seam", EdgeKind::seam, 0, 0, seam, Corner::closed});
  std::erase_if(part.labels, [&part](const Label& label) {
    return side_of(part.fold, label.at) == Side::outside;
  });
  if (auto checked = check_edges(part); !checked) return Failure(checked.error());
  return part;
}

}  // namespace

Result<std::array<Piece, 2>> split(const Piece& piece, const Polyline& line,
                                   const SplitOptions& options, const Context& context) {
  if (auto checked = check_edges(piece); !checked) return Failure(checked.error());
  const bool short_line = line.size() < 2 || line[0] == line[1] || line.front() == line.back() ||
                          line.back() == line[line.size() - 2];
  if (short_line) {
    return fail(ErrorCode::invalid_input, "a dividing line needs two points apart",
                format("piece \"{}\"", piece.id));
  }
  Overlay overlay;
  overlay.add(0, piece.fold);
  overlay.add(1, left_side(line, bounding_box(piece.fold)));
  auto left =
      overlay.region([](const Overlay::Windings& w) { return w[0] > 0 && w[1] > 0; }, context);
  if (!left) return Failure(left.error());
  auto right =
      overlay.region([](const Overlay::Windings& w) { return w[0] > 0 && w[1] <= 0; }, context);
  if (!right) return Failure(right.error());
  auto first = part_of(piece, std::move(*left), 1, options.overlap);
  if (!first) return Failure(first.error());
  auto second = part_of(piece, std::move(*right), 2, Mm{0});
  if (!second) return Failure(second.error());
  return std::array<Piece, 2>{std::move(*first), std::move(*second)};
}

Result<Polyline> proposed_line(const Piece& piece, Mm widest) {
  const Box box = bounding_box(piece.cut);
  const auto fits = [&](double along, double across) {
    const double width = piece.grain == Grain::along ? across : std::min(along, across);
    return width <= widest.value;
  };
  constexpr int kSteps = 60;  // of the middle three fifths
  std::optional<Polyline> best;
  double shortest = std::numeric_limits<double>::infinity();
  for (const bool upright : {false, true}) {
    const auto coordinate = upright ? &Vec2::x : &Vec2::y;
    const auto other = upright ? &Vec2::y : &Vec2::x;
    for (int k = 0; k <= kSteps; ++k) {
      // From the middle outwards, so that of equal lines the middle one is taken.
      const double share = 0.5 + (k % 2 == 0 ? 1 : -1) * 0.6 * ((k + 1) / 2) / kSteps;
      const double at = box.low.*coordinate + share * (box.high.*coordinate - box.low.*coordinate);
      const double before = at - box.low.*coordinate;
      const double after = box.high.*coordinate - at;
      const double length = box.high.*other - box.low.*other;
      const bool both = upright ? fits(before, length) && fits(after, length)
                                : fits(length, before) && fits(length, after);
      if (!both) continue;
      std::vector<double> crossings;
      add_crossings(piece.fold.outer, coordinate, other, at, crossings);
      for (const Ring& hole : piece.fold.holes) {
        add_crossings(hole, coordinate, other, at, crossings);
      }
      if (crossings.size() != 2) continue;
      const auto [low, high] = std::minmax(crossings[0], crossings[1]);
      if (high - low >= shortest - 1e-9) continue;
      shortest = high - low;
      constexpr double kBeyond = 5;  // mm past the film, so that it is divided for certain
      best = upright ? Polyline{{at, low - kBeyond}, {at, high + kBeyond}}
                     : Polyline{{low - kBeyond, at}, {high + kBeyond, at}};
    }
  }
  if (best) return *best;
  return fail(ErrorCode::unsupported,
              format("no straight line divides it into two parts that fit {:.0f} mm", widest.value),
              format("piece \"{}\"", piece.id), "Draw a line, or divide it in several steps");
}

}  // namespace film::pattern
