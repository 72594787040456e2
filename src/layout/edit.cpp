#include "layout/edit.h"

#include <algorithm>
#include <limits>
#include <string>
#include <utility>

#include "layout/detail/search/bodies.h"
#include "layout/detail/search/push.h"
#include "layout/solve.h"

namespace film::layout {
namespace {

constexpr double kNoMiddle = -std::numeric_limits<double>::infinity();

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
  const std::vector<PlacedPiece> known =
      detail::known_pieces(prepared.problem, placements, kept, kNoMiddle);
  const std::vector<Violation> violations = detail::violations_among(prepared.problem, known);
  detail::FirstLayout laid =
      detail::mended_layout(prepared.problem, known, violations, kept, kNoMiddle);
  std::vector<Unplaced> unplaced = prepared.unplaced;
  unplaced.insert(unplaced.end(), laid.left_out.begin(), laid.left_out.end());
  Solution anew = solution_of(problem, std::move(laid.placements), std::move(unplaced));
  if (const auto pushed = detail::pushed_aside(prepared.problem, known, kept, violations)) {
    detail::FirstLayout other = detail::first_layout(prepared.problem, *pushed);
    unplaced = prepared.unplaced;
    unplaced.insert(unplaced.end(), other.left_out.begin(), other.left_out.end());
    Solution aside = solution_of(problem, std::move(other.placements), std::move(unplaced));
    const bool better =
        aside.unplaced.size() <= anew.unplaced.size() && aside.length <= anew.length;
    if (better && verify(problem, aside, kept).empty()) return aside;
  }
  for (const Violation& violation : verify(problem, anew, kept)) {
    return fail(ErrorCode::conflict, "the kept pieces break a rule: " + violation.what,
                "kept pieces", "Move one of them");
  }
  return anew;
}

}  // namespace film::layout
