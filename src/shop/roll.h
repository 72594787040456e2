#pragma once

#include <string>

#include "base/result.h"
#include "base/units.h"

namespace film::shop {

/// A roll of film in stock.
struct Roll {
  std::string id;    ///< stable: "R-0001"
  std::string film;  ///< id of its film
  std::string lot;   ///< production batch, as printed on the box
  Mm width{1524};
  Mm length{15000};      ///< as received
  Mm remaining{15000};   ///< 0 to length
  std::string received;  ///< the day, "2031-05-04"
  std::string place;     ///< where it is kept

  friend bool operator==(const Roll&, const Roll&) = default;
};

/// Checks a roll: ids and lot, lengths positive and finite, remaining within the length, a real
/// day. Errors: invalid_input naming the field.
Result<void> check(const Roll& roll);

/// The roll after `length` of it was used. Errors: invalid_input (not positive), conflict (more
/// than remains): a stock is never negative.
Result<Roll> take(Roll roll, Mm length);

}  // namespace film::shop
