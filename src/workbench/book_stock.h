#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/roll.h"
#include "shop/roll_measure.h"
#include "shop/stock_ledger.h"
#include "shop/supply.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// A change of film in stock by a person.
struct StockChange {
  std::string roll;                                 ///< or an offcut
  shop::StockVerb verb = shop::StockVerb::counted;  ///< not received: see receive_roll
  Mm length{0};                                     ///< used, given back, lost, or what was counted
  std::string job;                                  ///< may be empty
  std::string why;
  std::string who = "shop";
};

/// Takes a new roll into stock and gives it its id when it has none. Errors: those of
/// shop::check(Roll); not_found (film), conflict (the id is taken), io.
Result<shop::Roll> receive_roll(Workbench& workbench, shop::Roll roll,
                                const std::string& who = "shop");

/// Enters the change in the ledger and answers with the roll after it. Errors: not_found (roll,
/// job), invalid_input, conflict (less than nothing or more than was received would be left), io.
Result<shop::Roll> change_stock(Workbench& workbench, const StockChange& change);

/// Replaces the defects known on a roll. Errors: not_found, those of shop::check(Roll), io.
Result<shop::Roll> mark_defects(Workbench& workbench, const std::string& roll,
                                std::vector<shop::RollDefect> defects);

/// How the shop keeps one film in one width from now on. Errors: not_found (film), those of
/// shop::check(Supply), io.
Result<shop::Supply> set_supply(Workbench& workbench, const shop::Supply& supply);

/// What a person measured on a roll; what is not given comes from the film's supply.
struct RollCheck {
  std::string roll;
  std::optional<shop::RollDiameters> diameters;  ///< or
  std::optional<shop::RollWeight> weight;
};

/// Holds the book against the measure. Changes nothing. Errors: not_found; invalid_input (neither
/// or both were measured; a fact of the film is not known), io.
Result<shop::StockCheck> check_roll(Workbench& workbench, const RollCheck& check);

}  // namespace film::workbench
