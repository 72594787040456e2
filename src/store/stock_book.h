#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/film.h"
#include "shop/offcut.h"
#include "shop/roll.h"
#include "shop/stock_ledger.h"
#include "shop/supply.h"

namespace film::store {

/// Films, and the film at hand: rolls, offcuts, their ledger, what is kept in the rack. A part of
/// Book (store/book.h).
class StockBook {
 public:
  virtual ~StockBook() = default;

  virtual std::vector<shop::Film> films() = 0;  ///< by name
  virtual std::optional<shop::Film> film(const std::string& id) = 0;
  virtual void put(const shop::Film& film) = 0;

  virtual std::vector<shop::Roll> rolls() = 0;  ///< by film, day received, id; no offcuts
  /// Also an offcut, as the short roll that its box is.
  virtual std::optional<shop::Roll> roll(const std::string& id) = 0;
  /// A new roll comes into the ledger as received by `who`, one used before less what was used; a
  /// roll without an id gets one ("R-0001"). Errors: conflict (there is one of that id).
  virtual Result<shop::Roll> receive(shop::Roll roll, const std::string& who,
                                     const std::string& at) = 0;
  /// Lot, place and defects as they are given. What remains changes by ledger lines only.
  virtual void update(const shop::Roll& roll) = 0;

  /// Appends the line and returns the roll or offcut after it. Errors: not_found; those of
  /// shop::after.
  virtual Result<shop::Roll> enter(const shop::StockLine& line) = 0;
  virtual std::vector<shop::StockLine> ledger(const std::string& roll) = 0;  ///< oldest first

  virtual std::vector<shop::Offcut> offcuts() = 0;  ///< on the shelf, by film, day, id
  virtual std::optional<shop::Offcut> offcut(const std::string& id) = 0;  ///< also one that is gone
  /// Puts the offcut on the shelf, with a line in the ledger, and gives it its id ("O-0001").
  virtual shop::Offcut add(shop::Offcut offcut, const std::string& who, const std::string& at) = 0;

  virtual std::vector<shop::Supply> supplies() = 0;  ///< by film, widest first
  virtual void put(const shop::Supply& supply) = 0;
};

}  // namespace film::store
