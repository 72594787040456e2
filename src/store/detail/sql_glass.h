#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/glass_book.h"

namespace film::store::detail {

/// Glass and lamps, in SQL.
class SqlGlass : public virtual GlassBook {
 public:
  explicit SqlGlass(Sql& sql) : sql_(sql.session) {}

  std::optional<std::string> film_optics(const std::string& film) override;
  void put_film_optics(const std::string& film, std::string_view layer) override;
  std::string glass_place(const std::string& job) override;
  void put_glass_place(const std::string& job, const std::string& place) override;
  std::vector<shop::GlassReading> readings(const std::string& job) override;
  void append(const std::string& job, const shop::GlassReading& reading) override;
  std::vector<shop::Decision> decisions(const std::string& job) override;
  void append(const std::string& job, const shop::Decision& decision) override;

 private:
  soci::session& sql_;
};

}  // namespace film::store::detail
