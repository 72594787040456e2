#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "layout/problem.h"
#include "layout/solution.h"

namespace film::layout {

enum class Rule {
  overlap,  ///< the insides of two pieces meet
  gap,      ///< two pieces are nearer than the gap
  outside,  ///< a piece reaches over an edge or into a margin of the strip
  defect,   ///< a piece covers part of a defect
  frame,    ///< a piece crosses a frame's end
  group,    ///< a piece lies before one of an earlier group
  turn,     ///< a piece is turned as its item does not allow
  count,    ///< a copy is missing, laid twice or unknown
  lock,     ///< a locked piece has moved
  length    ///< the stated length or density is not that of the placements
};

/// The stable name of a rule ("overlap").
std::string_view name_of(Rule rule);

/// One broken rule.
struct Violation {
  Rule rule;
  std::vector<std::size_t> placements;  ///< indices into Solution::placements
  std::string what;                     ///< for people

  friend bool operator==(const Violation&, const Violation&) = default;
};

/// Every rule that the layout breaks; empty means valid. Judges the final coordinates
/// (`outline_of`) with exact predicates: no tolerance for overlap, edges and defects, touching
/// is allowed. The gap is compared with distances rounded to nearest in extended precision.
/// Shares nothing with `solve` but geometry predicates. Cost: O(n log n) in pieces for spread-out
/// layouts, times the edges of neighbours.
std::vector<Violation> verify(const Problem& problem, const Solution& solution,
                              std::span<const PlacedPiece> locked = {});

/// Exact: do the insides of two simple regions (holes allowed) meet? Touching is not meeting.
bool interiors_meet(const Polygon& a, const Polygon& b);

/// The distance between two regions; 0 when they touch or overlap.
double distance_between(const Polygon& a, const Polygon& b);

}  // namespace film::layout
