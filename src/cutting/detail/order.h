#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "base/context.h"
#include "cutting/detail/contours.h"

namespace film::cutting::detail {

using Precedences = std::vector<std::pair<std::size_t, std::size_t>>;

/// Groups of lines in the order in which the roll is fed: within a group everything lies in a
/// stretch of at most `most` mm, and the film is never fed back by more than that. A line's group
/// is not before the group of any line that must precede it.
/// Errors: invalid_input, when one line is longer than `most`.
Result<std::vector<std::vector<std::size_t>>> frames_of(const std::vector<Line>& lines,
                                                        const Precedences& before, double most);

/// A short open path through points: `start` first, then every point once, end anywhere.
/// `before` lists pairs of indices whose first must come first. Nearest neighbour, then 2-opt and
/// or-opt with neighbour lists, then `iterations` rounds of disturbing a stretch and mending it,
/// kept when not longer. Same input, same answer. Returns the order of the indices.
/// Sources: S. Lin, "Computer solutions of the traveling salesman problem", Bell Syst. Tech. J.
/// 44, 1965 (2-opt); I. Or, PhD thesis, Northwestern University, 1976 (or-opt); O. Martin, S. Otto,
/// E. Felten, "Large-step Markov chains for the traveling salesman problem", Complex Systems 5,
/// 1991 (disturb and mend; here by local double bridges).
std::vector<std::size_t> short_order(Vec2 start, const std::vector<Vec2>& points,
                                     const Precedences& before, std::uint64_t seed,
                                     std::size_t iterations, const Context& context);

/// Where a line is entered and left.
struct Ends {
  Vec2 entry;
  Vec2 exit;
};

/// Shortens an order at the true cost, which depends on the direction: from each exit to the next
/// entry. Moves and reverses stretches until nothing helps. The order and its answer keep `before`.
void polish(Vec2 start, const std::vector<Ends>& ends, const Precedences& before,
            std::vector<std::size_t>& order);

/// For lines in a given order, the best entry place of each (index into Line::starts): a shortest
/// path through one layer of places a line. Exact for this order.
std::vector<std::size_t> best_starts(Vec2 start, const std::vector<Line>& lines,
                                     const std::vector<std::size_t>& order);

}  // namespace film::cutting::detail
