#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "hours/model.h"
#include "shop/money.h"
#include "shop/scope_rules.h"

namespace film::shop {

/// What a film costs the shop.
struct FilmPrice {
  std::string film;
  Money square_metre;

  friend bool operator==(const FilmPrice&, const FilmPrice&) = default;
};

/// What the shop asks for its work and what that costs it: all that a price is made of beside the
/// pieces. Amounts are net, in the shop's currency. Each change is a new revision; a quote names
/// the one it was made with.
struct PriceList {
  std::int64_t revision = 0;  ///< 0: not in the book yet
  std::string made;           ///< RFC 3339, UTC
  std::string who;

  std::vector<FilmPrice> films;  ///< by film; others cost `other_film`
  Money other_film{60'00};       ///< a square metre
  Rate film_markup = Rate::percent(60);
  /// Film needed beside the pieces' own area where there is no layout to tell.
  Rate usual_waste = Rate::percent(30);

  Money hour{75'00};       ///< of work, as sold
  Money hour_cost{32'00};  ///< as it costs the shop
  hours::Belief hours;     ///< how long pieces take, before records tell

  std::int64_t preparation_vehicle = 90;     ///< minutes: wash, decontaminate, wipe down
  std::int64_t preparation_metre = 6;        ///< minutes for each square metre to be covered
  std::int64_t coating_metre = 9;            ///< minutes for each square metre coated
  Money coating_material{9'00};              ///< a square metre, cost
  Money consumables_vehicle{25'00};          ///< blades, slip and tack solution, cloths; cost
  Money consumables_metre{1'50};             ///< a square metre to be covered, cost
  Rate material_markup = Rate::percent(30);  ///< on coating and consumables

  Rate tax = Rate::percent(19);
  Rate deposit = Rate::percent(30);         ///< of the total
  Rate least_margin = Rate::percent(25);    ///< of the net price; below it the shop is warned
  std::int64_t valid_days = 30;             ///< that a quote stands
  Rate promise_chance = Rate::percent(90);  ///< that a promised date is kept

  std::vector<Package> packages;
  std::vector<Look> looks;

  friend bool operator==(const PriceList&, const PriceList&) = default;
};

/// Errors: invalid_input naming the field (a negative or huge amount, a rate out of 0 to 1000 %,
/// minutes out of 0 to 10 000, days out of 1 to 365, a chance out
/// of 50 to 99 %, a film priced twice, and those of
/// hours::check and of check for packages and looks).
Result<void> check(const PriceList& list);

/// What a square metre of the film costs.
Money cost_of(const PriceList& list, std::string_view film);

}  // namespace film::shop
