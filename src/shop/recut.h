#pragma once

#include <string>

#include "base/result.h"
#include "base/units.h"

namespace film::shop {

/// Why a piece is made again. Common practice, no source.
enum class RecutReason {
  crease,     ///< folded or creased while it was laid
  torn,       ///< torn or stretched past its limit
  dirt,       ///< dirt or hair under the film
  misplaced,  ///< laid in the wrong place and not to be lifted
  miscut,     ///< cut wrong, or the piece does not fit
  flawed,     ///< the film itself is faulty
  damaged,    ///< damaged after it was laid
  lifted,     ///< an edge came up after the vehicle was handed over
  aged,       ///< yellowed, hazed or cracked with time
};

/// One piece made again from an offcut or a roll. Appended, never changed.
struct Recut {
  std::string id;  ///< "X-0001"
  std::string job;
  std::string piece;
  std::string film;
  std::string stock;  ///< roll or offcut it was cut from
  std::string lot;    ///< of that stock
  RecutReason reason = RecutReason::crease;
  std::string note;
  Mm used{0};         ///< length booked out of the stock
  double area = 0;    ///< film that it cost, mm^2: a roll's width times `used`, or the piece and
                      ///< what became waste of an offcut
  std::string run;    ///< the cutting run
  std::string claim;  ///< that it answers; empty: none
  std::string sheet;  ///< content hash of where it lies (docs/formats/layout.md)
  std::string plot;   ///< content hash of the HP-GL
  std::string who;
  std::string at;  ///< RFC 3339, UTC

  friend bool operator==(const Recut&, const Recut&) = default;
};

}  // namespace film::shop
