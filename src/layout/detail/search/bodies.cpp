#include "layout/detail/search/bodies.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "layout/detail/search/turns.h"
#include "layout/verify.h"

namespace film::layout::detail {
namespace {

/// Half the width of the bar that stands for a frame's end, as a share of the strip's width.
constexpr double kBar = 1e-6;
constexpr double kMostFrames = 2000;

std::string why_not(const Item& item, const Strip& strip) {
  const double room = strip.width - strip.margins.low - strip.margins.high;
  const double least = least_width(item);
  if (least > room) {
    return format("wider than the strip: its least width is {:.6g}, the strip offers {:.6g}", least,
                  room);
  }
  if (strip.frame > 0 && strip.frame < strip.maximum_length) {
    return format("too long: no turn in which it fits the width fits a frame of {:.6g}",
                  strip.frame);
  }
  return "too long for the strip in every turn in which it fits the width";
}

bool fits_in_a_turn(const Item& item, const Strip& strip) {
  return std::any_of(item.turns.begin(), item.turns.end(), [&](Angle turn) {
    return fits(strip, bounding_box(film::apply(Placement{turn.radians, {}}, item.shape)));
  });
}

/// Bars across the strip at the frames' ends, as far as pieces could ever reach.
void add_bars(Problem& problem) {
  Strip& strip = problem.strip;
  double reach = strip.margins.start + strip.frame;
  for (const Item& item : problem.items) {
    const Box box = bounding_box(item.shape);
    reach += item.quantity * (std::hypot(box.width(), box.height()) + strip.gap);
  }
  reach = std::min(2 * reach, strip.maximum_length);
  const double half = kBar * strip.width;
  const double count = std::min(kMostFrames, std::floor(reach / strip.frame));
  for (double k = 1; k <= count; ++k) {
    const double x = k * strip.frame;
    strip.defects.push_back(
        {{{x - half, 0}, {x + half, 0}, {x + half, strip.width}, {x - half, strip.width}}, {}});
  }
}

bool is_among(std::span<const PlacedPiece> pieces, const PlacedPiece& piece) {
  return std::find(pieces.begin(), pieces.end(), piece) != pieces.end();
}

/// The layout of some of the pieces, the others left out.
Solution partial(const Problem& problem, std::vector<PlacedPiece> placements) {
  Solution solution;
  std::vector<std::vector<char>> there;
  for (const Item& item : problem.items) {
    there.emplace_back(static_cast<std::size_t>(item.quantity), 0);
  }
  for (const PlacedPiece& p : placements) there[p.item][static_cast<std::size_t>(p.copy)] = 1;
  for (std::size_t i = 0; i < there.size(); ++i) {
    for (std::size_t c = 0; c < there[i].size(); ++c) {
      if (!there[i][c]) solution.unplaced.push_back({i, static_cast<int>(c), {}});
    }
  }
  solution.length = length_of(problem, placements);
  solution.density = density_of(problem, placements, solution.length);
  solution.placements = std::move(placements);
  return solution;
}

/// The pieces without those that must go for every violation to be mended; locked ones stay.
std::vector<PlacedPiece> without_clashing(std::span<const PlacedPiece> placements,
                                          const std::vector<Violation>& violations,
                                          std::span<const PlacedPiece> locked) {
  std::vector<char> gone(placements.size(), 0);
  for (const Violation& violation : violations) {
    const auto& clash = violation.placements;
    if (std::any_of(clash.begin(), clash.end(), [&](std::size_t i) { return gone[i] != 0; })) {
      continue;
    }
    for (auto at = clash.rbegin(); at != clash.rend(); ++at) {
      if (is_among(locked, placements[*at])) continue;
      gone[*at] = 1;
      break;
    }
  }
  std::vector<PlacedPiece> left;
  for (std::size_t i = 0; i < placements.size(); ++i) {
    if (!gone[i]) left.push_back(placements[i]);
  }
  return left;
}

}  // namespace

Prepared prepared(const Problem& problem) {
  Prepared out{with_named_turns(problem), {}};
  for (std::size_t i = 0; i < problem.items.size(); ++i) {
    Item& item = out.problem.items[i];
    if (fits_in_a_turn(item, problem.strip)) continue;
    for (int copy = 0; copy < item.quantity; ++copy) {
      out.unplaced.push_back({i, copy, why_not(problem.items[i], problem.strip)});
    }
    item.quantity = 0;
  }
  if (problem.strip.frame > 0) add_bars(out.problem);
  return out;
}

std::vector<Body> bodies_of(Engine& engine, std::span<const PlacedPiece> pieces,
                            std::span<const PlacedPiece> locked) {
  std::vector<Body> bodies;
  for (const PlacedPiece& piece : pieces) {
    const bool fixed = is_among(locked, piece);
    const std::size_t kind = engine.kind_of_item(piece.item);
    const std::uint32_t pose = fixed ? engine.add_pose(kind, piece.placement.turn)
                                     : engine.nearest_pose(kind, piece.placement.turn);
    bodies.push_back({pose, piece.placement.move, fixed});
  }
  for (const Engine::Defect& defect : engine.defects()) {
    bodies.push_back({engine.poses_of(defect.kind).front(), defect.at, true});
  }
  return bodies;
}

std::vector<PlacedPiece> pieces_of(const Engine& engine, std::vector<PlacedPiece> pieces,
                                   std::span<const Body> bodies) {
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (bodies[i].fixed) continue;
    pieces[i].placement = {engine.pose(bodies[i].pose).turn, bodies[i].at};
  }
  return pieces;
}

std::vector<PlacedPiece> known_pieces(const Problem& problem, std::span<const PlacedPiece> given,
                                      std::span<const PlacedPiece> locked, double first_middle) {
  std::vector<PlacedPiece> there(locked.begin(), locked.end());
  for (const PlacedPiece& piece : given) {
    const bool known = piece.item < problem.items.size() && piece.copy >= 0 &&
                       piece.copy < problem.items[piece.item].quantity;
    const bool taken = std::any_of(there.begin(), there.end(), [&](const PlacedPiece& p) {
      return p.item == piece.item && p.copy == piece.copy;
    });
    if (!known || taken) continue;
    if (bounding_box(outline_of(problem, piece)).centre().x < first_middle) continue;
    there.push_back(piece);
  }
  return there;
}

std::vector<Violation> violations_among(const Problem& problem, std::vector<PlacedPiece> pieces) {
  return verify(problem, partial(problem, std::move(pieces)));
}

FirstLayout mended_layout(const Problem& prepared, std::span<const PlacedPiece> known,
                          const std::vector<Violation>& violations,
                          std::span<const PlacedPiece> locked, double first_middle) {
  std::vector<PlacedPiece> there = without_clashing(known, violations, locked);
  // Groups in turn are judged by all pieces at once: without some of them others may be wrong.
  while (prepared.grouping == Grouping::in_turn) {
    std::vector<PlacedPiece> left =
        without_clashing(there, violations_among(prepared, there), locked);
    if (left.size() == there.size()) break;
    there = std::move(left);
  }
  return first_layout(prepared, there, first_middle);
}

}  // namespace film::layout::detail
