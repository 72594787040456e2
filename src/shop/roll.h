#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "base/units.h"
#include "geometry/box.h"

namespace film::shop {

/// A place on a roll that no piece may cover. It is told from the core, because that end stays
/// where it is while the roll is used.
struct RollDefect {
  Mm from_core{0};  ///< its end nearer to the core, along the roll
  Mm length{0};     ///< along the roll
  Mm low{0};        ///< across the roll
  Mm high{0};
  std::string note;  ///< what it is

  friend bool operator==(const RollDefect&, const RollDefect&) = default;
};

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
  std::vector<RollDefect> defects = {};

  friend bool operator==(const Roll&, const Roll&) = default;
};

/// Checks a roll: ids and lot, lengths positive and finite, remaining within the length, a real
/// day, defects on the roll. Errors: invalid_input naming the field.
Result<void> check(const Roll& roll);

/// The defects on what remains, where a layout meets them: x from the roll's outer end, y across
/// it, mm.
std::vector<Box> defects_ahead(const Roll& roll);

}  // namespace film::shop
