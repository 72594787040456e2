#include "workbench/book_stock.h"

#include <cmath>

#include "base/text.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"

namespace film::workbench {
namespace {

Result<void> check_film(store::Book& book, const std::string& film) {
  if (book.film(film)) return {};
  return fail(ErrorCode::not_found, "there is no such film", "film " + film,
              "Choose one of the films in the book.");
}

Result<shop::StockLine> line_of(const shop::Roll& roll, const StockChange& change) {
  switch (change.verb) {
    case shop::StockVerb::received: break;
    case shop::StockVerb::cut: return shop::cut(roll, change.length, change.job);
    case shop::StockVerb::returned: return shop::give_back(roll, change.length, change.job);
    case shop::StockVerb::written_off: return shop::write_off(roll, change.length, change.why);
    case shop::StockVerb::counted: return shop::count(roll, change.length, change.why);
  }
  return fail(ErrorCode::invalid_input, "a roll is received once", "roll " + roll.id,
              "Receive a new roll.");
}

/// The supply of the roll's film and width, if the shop has said how it keeps them.
std::optional<shop::Supply> supply_of(store::Book& book, const shop::Roll& roll) {
  for (shop::Supply& supply : book.supplies()) {
    if (shop::is_of(supply, roll.film, roll.width)) return std::move(supply);
  }
  return std::nullopt;
}

// What the shop noted of film and core is taken as good as it is written: one part in a hundred of
// thickness and weight, half a millimetre of a core (common practice, no source).
constexpr double kNotedShare = 0.01;
constexpr double kNotedCore = 0.5;

Result<shop::Measured> measured(const RollCheck& check, const shop::Roll& roll,
                                const shop::Supply& supply) {
  if (check.weight) {
    shop::RollWeight weight = *check.weight;
    if (!(weight.core.value > 0)) weight.core = {supply.core_g, kNotedShare * supply.core_g};
    if (!(weight.areal.value > 0)) {
      weight.areal = {supply.areal_gsm, kNotedShare * supply.areal_gsm};
    }
    return shop::length_by_weight(weight, roll.width);
  }
  shop::RollDiameters diameters = *check.diameters;
  if (!(diameters.core.value > 0)) diameters.core = {supply.core_diameter, kNotedCore};
  if (!(diameters.wound.value > 0)) {
    diameters.wound = {supply.wound_um / 1000, kNotedShare * supply.wound_um / 1000};
  }
  return shop::length_by_diameter(diameters);
}

Failure no_roll(const std::string& id) {
  return fail(ErrorCode::not_found, "there is no such roll or offcut", "roll " + id,
              "Choose one of those in stock.");
}

}  // namespace

Result<shop::Roll> receive_roll(Workbench& workbench, shop::Roll roll, const std::string& who) {
  return workbench.store().change([&](store::Book& book) -> Result<shop::Roll> {
    shop::Roll named = roll;
    if (named.id.empty()) named.id = "new";
    if (auto sound = shop::check(named); !sound) return Failure(sound.error());
    if (auto known = check_film(book, roll.film); !known) return Failure(known.error());
    return book.receive(std::move(roll), who, now());
  });
}

Result<shop::Roll> change_stock(Workbench& workbench, const StockChange& change) {
  return workbench.store().change([&](store::Book& book) -> Result<shop::Roll> {
    const auto roll = book.roll(change.roll);
    if (!roll) return no_roll(change.roll);
    if (!change.job.empty()) {
      if (auto job = find_job(book, change.job); !job) return Failure(job.error());
    }
    auto line = line_of(*roll, change);
    if (!line) return Failure(line.error());
    line->who = change.who;
    line->why = change.why;
    line->at = now();
    return book.enter(*line);
  });
}

Result<shop::Roll> mark_defects(Workbench& workbench, const std::string& id,
                                std::vector<shop::RollDefect> defects) {
  return workbench.store().change([&](store::Book& book) -> Result<shop::Roll> {
    auto roll = book.roll(id);
    if (!roll) return no_roll(id);
    roll->defects = std::move(defects);
    if (auto sound = shop::check(*roll); !sound) return Failure(sound.error());
    book.update(*roll);
    return std::move(*roll);
  });
}

Result<shop::Supply> set_supply(Workbench& workbench, const shop::Supply& supply) {
  return workbench.store().change([&](store::Book& book) -> Result<shop::Supply> {
    if (auto sound = shop::check(supply); !sound) return Failure(sound.error());
    if (auto known = check_film(book, supply.film); !known) return Failure(known.error());
    book.put(supply);
    return supply;
  });
}

Result<shop::StockCheck> check_roll(Workbench& workbench, const RollCheck& check) {
  if (check.diameters.has_value() == check.weight.has_value()) {
    return fail(ErrorCode::invalid_input, "one measure is needed", "roll " + check.roll,
                "Give either the diameter or the weight.");
  }
  return workbench.store().look([&](store::Book& book) -> Result<shop::StockCheck> {
    const auto roll = book.roll(check.roll);
    if (!roll) return no_roll(check.roll);
    const auto length = measured(check, *roll, supply_of(book, *roll).value_or(shop::Supply{}));
    if (!length) return Failure(length.error());
    return shop::compare(*roll, *length);
  });
}

}  // namespace film::workbench
