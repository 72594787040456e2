#pragma once

#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/units.h"
#include "geometry/box.h"
#include "geometry/polygon.h"

namespace film::layout {

/// A shape to be laid some number of times. Lengths are in the unit of the problem (mm for film,
/// whatever a benchmark uses). Pieces are turned and moved, never mirrored: film has a face.
struct Item {
  std::string id;            ///< unique within the problem
  Polygon shape;             ///< may have holes; other pieces may lie in them
  int quantity = 1;          ///< copies to lay, 0 or more
  std::vector<Angle> turns;  ///< the turns allowed, counter-clockwise; empty means any angle
  std::string group = {};    ///< zone or vehicle it belongs to; may be empty
  int priority = 0;          ///< where not all fits, pieces of higher priority are laid first

  friend bool operator==(const Item&, const Item&) = default;
};

/// Film kept free at the edges of the strip.
struct Margins {
  double start = 0;  ///< at x = 0
  double end = 0;    ///< beyond the last piece; counts as length used
  double low = 0;    ///< along y = 0
  double high = 0;   ///< along y = width

  friend bool operator==(const Margins&, const Margins&) = default;
};

/// What the pieces are laid on: x runs along it from 0, y across it from 0 to width.
struct Strip {
  double width = 0;
  double gap = 0;  ///< least distance between two pieces
  Margins margins;
  std::vector<Polygon> defects;  ///< areas that no piece may cover; touching is allowed
  double maximum_length = std::numeric_limits<double>::infinity();  ///< what is left on the roll
  /// No piece crosses a multiple of this length; 0: pieces may lie anywhere. For machines that
  /// cannot come back over a frame that is done.
  double frame = 0;

  friend bool operator==(const Strip&, const Strip&) = default;
};

enum class Grouping {
  free,    ///< pieces lie wherever it saves film
  in_turn  ///< see Problem::grouping
};

struct Problem {
  std::string name;
  std::string units;  ///< of every length, "mm" for film; empty when the source does not say
  Strip strip;
  std::vector<Item> items;
  /// in_turn: groups lie one after the other along the strip, in the order in which the items
  /// name them first: the middle of a piece never lies before that of a piece of an earlier
  /// group (the middle of its box in x). Neighbouring groups may interlock.
  Grouping grouping = Grouping::free;

  friend bool operator==(const Problem&, const Problem&) = default;
};

/// An offcut as a strip: its box, of which all outside the outline is a defect. The outline is
/// what is usable of it, x along the roll it came from; pieces come out in its box's frame.
Strip strip_of_offcut(const Polygon& outline, double gap);

/// Can a piece with this box lie on the strip, by its width, length and frames?
bool fits(const Strip& strip, const Box& box);

/// The groups in the order in which the items name them; pieces without a group are one group.
std::vector<std::string> groups_of(const Problem& problem);

/// Copies of all items together.
std::size_t copies_in(const Problem& problem);
/// Area of all copies together.
double area_of(const Problem& problem);

/// The narrowest strip the item fits on in one of its turns, margins not counted. For an item
/// of any angle this is its least width over all directions (exact, on its convex hull).
double least_width(const Item& item);
/// The turn in which the item is that narrow.
Angle narrowest_turn(const Item& item);

/// The first thing that makes the problem meaningless, if any (invalid_input): a width, gap or
/// margin that is negative or not a number, margins that leave no width, a negative quantity,
/// an item without area, two items of one id. too_large past a million copies. A piece that does
/// not fit is not an error: solve answers it.
std::optional<Error> fault_of(const Problem& problem);

}  // namespace film::layout
