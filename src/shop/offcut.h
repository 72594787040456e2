#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/units.h"
#include "geometry/box.h"
#include "geometry/polygon.h"
#include "shop/roll.h"

namespace film::shop {

/// Film left over and kept on the shelf. It is cut from once: what is left then is another offcut.
struct Offcut {
  std::string id;  ///< "O-0001"
  std::string film;
  std::string lot;
  Polygon outline;   ///< its usable area, mm; x as the roll ran, box from the origin
  std::string from;  ///< roll or offcut it was part of; empty: nobody knows
  std::string run;   ///< cutting run that left it; empty: kept by hand
  std::string kept;  ///< the day, "2031-05-04"
  std::string place;
  bool gone = false;  ///< cut from, or written off

  friend bool operator==(const Offcut&, const Offcut&) = default;
};

/// Checks an offcut: film and lot named, a simple outline with its box at the origin and sides of
/// 20 mm to 5 m, a real day. Errors: invalid_input naming the field.
Result<void> check(const Offcut& offcut);

/// The outline as offcuts have it: turned so that the grain runs along x (`grain` is its direction
/// in the outline as given) and moved so that its box begins at the origin.
Polygon shelved(const Polygon& outline, Angle grain);

/// The offcut as the short roll that its box is: what it counts as in the ledger.
Roll as_roll(const Offcut& offcut);

/// Which rests are worth keeping.
struct RestRule {
  Mm least_side{200};  ///< of a rectangle worth the shelf
  Mm margin{5};        ///< kept free round what was cut

  friend bool operator==(const RestRule&, const RestRule&) = default;
};

/// Rectangles that are left of `film` when `cut` is cut out of it, the largest first; none
/// overlaps another. Found on a grid of 5 mm, so that a rest is smaller than the true one by up to
/// 10 mm a side, never larger. O(cells of the grid x rests + edges).
std::vector<Box> rests_of(const Polygon& film, std::span<const Polygon> cut, const RestRule& rule);

}  // namespace film::shop
