#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "base/units.h"
#include "shop/film.h"
#include "shop/roll.h"

namespace film::store {

/// Films and the rolls of them: a part of Book (store/book.h).
class StockBook {
 public:
  virtual ~StockBook() = default;

  virtual std::vector<shop::Film> films() = 0;  ///< by name
  virtual std::optional<shop::Film> film(const std::string& id) = 0;
  virtual void put(const shop::Film& film) = 0;

  virtual std::vector<shop::Roll> rolls() = 0;  ///< by film, day received, id
  virtual std::optional<shop::Roll> roll(const std::string& id) = 0;
  virtual void put(const shop::Roll& roll) = 0;

  /// Books film out of the roll, with a line in the stock ledger. Errors: not_found, conflict
  /// (more than remains).
  virtual Result<void> take_film(const std::string& roll, const std::string& job, Mm length,
                                 const std::string& at) = 0;
};

}  // namespace film::store
