#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/units.h"
#include "shop/roll.h"

namespace film::shop {

/// How the shop keeps one film in one width.
struct Supply {
  std::string film;
  Mm width{1524};
  Mm minimum{0};          ///< that should always be in the rack
  Mm roll_length{15000};  ///< as the film is sold
  int lead_days = 7;      ///< from the order to the rack
  // For the cross-check of a roll by weight or diameter; 0: not known.
  double areal_gsm = 0;      ///< of film, adhesive and liner, g/m^2
  double wound_um = 0;       ///< thickness of one turn, micrometres
  double core_g = 0;         ///< of a bare core
  double core_diameter = 0;  ///< outside, mm

  friend bool operator==(const Supply&, const Supply&) = default;
};

/// Errors: invalid_input naming the field.
Result<void> check(const Supply& supply);

/// Whether it is the supply of that film in that width (to a millimetre).
bool is_of(const Supply& supply, const std::string& film, Mm width);

/// Film that a job which is not cut yet will take.
struct FilmNeed {
  std::string film;
  Mm width;
  Mm length;
  std::string job;
  std::string day;  ///< when it is to be cut, "2031-05-04"; empty: as soon as can be

  friend bool operator==(const FilmNeed&, const FilmNeed&) = default;
};

/// One film in one width: what there is, what is asked of it, what to order.
struct Outlook {
  Supply supply;
  Mm in_stock{0};
  Mm needed{0};      ///< by all open jobs
  bool low = false;  ///< below the minimum today
  int rolls_to_order = 0;
  std::string short_on;  ///< the first day on which less than the minimum remains; empty: none
  std::string order_by;  ///< that day less the lead time, today at the earliest; empty: no order

  friend bool operator==(const Outlook&, const Outlook&) = default;
};

/// What is there after each need in order of days, held against the minimum: whole rolls are to be
/// ordered until the last need leaves the minimum. `today` is a day. One outlook for each supply,
/// in their order; needs of films and widths without a supply are left out. O(supplies x (rolls +
/// needs)).
std::vector<Outlook> outlooks(std::span<const Supply> supplies, std::span<const Roll> rolls,
                              std::span<const FilmNeed> needs, const std::string& today);

}  // namespace film::shop
