#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/stock_book.h"

namespace film::store::detail {

/// Films, rolls and offcuts, in SQL.
class SqlStock : public virtual StockBook {
 public:
  explicit SqlStock(Sql& sql) : sql_(sql.session) {}

  std::vector<shop::Film> films() override;
  std::optional<shop::Film> film(const std::string& id) override;
  void put(const shop::Film& film) override;
  std::vector<shop::Roll> rolls() override;
  std::optional<shop::Roll> roll(const std::string& id) override;
  Result<shop::Roll> receive(shop::Roll roll, const std::string& who,
                             const std::string& at) override;
  void update(const shop::Roll& roll) override;
  Result<shop::Roll> enter(const shop::StockLine& line) override;
  std::vector<shop::StockLine> ledger(const std::string& roll) override;
  std::vector<shop::Offcut> offcuts() override;
  std::optional<shop::Offcut> offcut(const std::string& id) override;
  shop::Offcut add(shop::Offcut offcut, const std::string& who, const std::string& at) override;
  std::vector<shop::Supply> supplies() override;
  void put(const shop::Supply& supply) override;

 private:
  std::vector<shop::Film> films_where(const std::string& condition, const std::string& value);
  std::vector<shop::Roll> rolls_where(const std::string& condition, const std::string& value);
  std::vector<shop::Offcut> offcuts_where(const std::string& condition, const std::string& value);
  void insert(const shop::Roll& roll);
  void append(const shop::StockLine& line);
  std::string next_id(char letter);
  std::vector<shop::Finish> finishes_of(const std::string& film);

  soci::session& sql_;
};

}  // namespace film::store::detail
