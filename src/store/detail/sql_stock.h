#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/stock_book.h"

namespace film::store::detail {

/// Films and rolls, in SQL.
class SqlStock : public virtual StockBook {
 public:
  explicit SqlStock(Sql& sql) : sql_(sql.session) {}

  std::vector<shop::Film> films() override;
  std::optional<shop::Film> film(const std::string& id) override;
  void put(const shop::Film& film) override;
  std::vector<shop::Roll> rolls() override;
  std::optional<shop::Roll> roll(const std::string& id) override;
  void put(const shop::Roll& roll) override;
  Result<void> take_film(const std::string& roll, const std::string& job, Mm length,
                         const std::string& at) override;

 private:
  std::vector<shop::Film> films_where(const std::string& condition, const std::string& value);
  std::vector<shop::Roll> rolls_where(const std::string& condition, const std::string& value);
  std::vector<shop::Finish> finishes_of(const std::string& film);

  soci::session& sql_;
};

}  // namespace film::store::detail
