#include "layout/edit.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "base/rng.h"
#include "layout/detail/collision/engine.h"
#include "layout/detail/search/bodies.h"
#include "layout/solve.h"

namespace film::layout {
namespace {

/// Passes before the strip is made longer, and by how much.
constexpr int kPushPasses = 60;
constexpr double kLonger = 0.02;
constexpr int kTries = 3;

Solution solution_of(const Problem& problem, std::vector<PlacedPiece> placements,
                     std::vector<Unplaced> unplaced) {
  std::stable_sort(placements.begin(), placements.end(),
                   [](const PlacedPiece& a, const PlacedPiece& b) {
                     return std::pair(a.item, a.copy) < std::pair(b.item, b.copy);
                   });
  Solution solution;
  solution.placements = std::move(placements);
  solution.unplaced = std::move(unplaced);
  solution.length = length_of(problem, solution.placements);
  solution.density = density_of(problem, solution.placements, solution.length);
  return solution;
}

/// The layout as it would be, with pieces pushed until nothing overlaps; nothing if that takes
/// more than a short search.
std::optional<Solution> pushed(const Problem& problem, const Problem& prepared,
                               std::span<const PlacedPiece> kept, const Solution& safe,
                               std::span<const PlacedPiece> wanted, std::uint64_t seed,
                               const Context& context) {
  std::vector<PlacedPiece> pieces = safe.placements;
  for (PlacedPiece& piece : pieces) {
    for (const PlacedPiece& want : wanted) {
      if (want.item == piece.item && want.copy == piece.copy) piece.placement = want.placement;
    }
  }
  detail::Engine engine(prepared);
  const Strip& strip = problem.strip;
  const double most = strip.maximum_length - strip.margins.end;
  double reach = std::min(most, length_of(problem, pieces) - strip.margins.end + engine.slack());
  Rng rng(seed);
  for (int attempt = 0; attempt < kTries && reach <= most; ++attempt) {
    const detail::Room room{{strip.margins.start, strip.margins.low},
                            {reach, strip.width - strip.margins.high},
                            engine.slack(),
                            -std::numeric_limits<double>::infinity()};
    detail::Arrangement arrangement(engine, detail::bodies_of(engine, pieces, kept), room);
    for (int pass = 0; pass < kPushPasses && arrangement.total_overlap() > 0; ++pass) {
      if (context.stopped()) return std::nullopt;
      arrangement.pass(rng, context);
    }
    if (arrangement.total_overlap() == 0) {
      return solution_of(problem, detail::pieces_of(engine, pieces, arrangement.bodies()),
                         safe.unplaced);
    }
    reach *= 1 + kLonger;
  }
  return std::nullopt;
}

}  // namespace

std::vector<Violation> clashes_at(const Problem& problem, std::span<const PlacedPiece> placements,
                                  std::size_t index, const Placement& proposed) {
  Problem near;  // the pieces about the place, as a problem that verify can judge
  near.strip = problem.strip;
  Solution solution;
  std::vector<std::size_t> original;
  const auto add = [&](std::size_t i, const Placement& placement) {
    Item item = problem.items[placements[i].item];
    item.id += "/" + std::to_string(placements[i].copy);
    item.quantity = 1;
    near.items.push_back(std::move(item));
    solution.placements.push_back({near.items.size() - 1, 0, placement});
    original.push_back(i);
  };
  add(index, proposed);
  Box reach = bounding_box(film::apply(proposed, problem.items[placements[index].item].shape));
  reach.low -= Vec2{problem.strip.gap, problem.strip.gap};
  reach.high += Vec2{problem.strip.gap, problem.strip.gap};
  for (std::size_t i = 0; i < placements.size(); ++i) {
    if (i == index || !reach.touches(bounding_box(outline_of(problem, placements[i])))) continue;
    add(i, placements[i].placement);
  }
  solution.length = length_of(near, solution.placements);
  solution.density = density_of(near, solution.placements, solution.length);
  std::vector<Violation> clashes;
  for (Violation& violation : verify(near, solution)) {
    std::vector<std::size_t>& at = violation.placements;
    if (std::find(at.begin(), at.end(), std::size_t{0}) == at.end()) continue;
    for (std::size_t& i : at) i = original[i];
    clashes.push_back(std::move(violation));
  }
  return clashes;
}

Result<Solution> make_room(const Problem& problem, std::span<const PlacedPiece> placements,
                           std::span<const PlacedPiece> kept, std::uint64_t seed,
                           const Context& context) {
  if (auto fault = fault_of(problem)) return tl::unexpected(*std::move(fault));
  for (const PlacedPiece& piece : kept) {
    if (piece.item >= problem.items.size() || piece.copy < 0 ||
        piece.copy >= problem.items[piece.item].quantity) {
      return fail(ErrorCode::invalid_input, "a kept piece is not in the problem", "kept pieces");
    }
  }
  if (problem.grouping == Grouping::in_turn) {  // neighbours depend on all before them
    SolveOptions options{.seed = seed, .iteration_limit = 1};
    options.start.assign(placements.begin(), placements.end());
    options.locked.assign(kept.begin(), kept.end());
    return solve(problem, options, context);
  }
  const detail::Prepared prepared = detail::prepared(problem);
  detail::FirstLayout laid = detail::mended_layout(prepared.problem, placements, kept,
                                                   -std::numeric_limits<double>::infinity());
  std::vector<Unplaced> unplaced = prepared.unplaced;
  unplaced.insert(unplaced.end(), laid.left_out.begin(), laid.left_out.end());
  const Solution safe = solution_of(problem, std::move(laid.placements), std::move(unplaced));
  for (const Violation& violation : verify(problem, safe, kept)) {
    return fail(ErrorCode::conflict, "the kept pieces break a rule: " + violation.what,
                "kept pieces", "Move one of them");
  }
  auto better = pushed(problem, prepared.problem, kept, safe, placements, seed, context);
  if (better && verify(problem, *better, kept).empty()) return *std::move(better);
  return safe;
}

}  // namespace film::layout
