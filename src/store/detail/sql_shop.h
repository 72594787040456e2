#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/shop_book.h"

namespace film::store::detail {

/// The shop itself and its machines, in SQL.
class SqlShop : public virtual ShopBook {
 public:
  explicit SqlShop(Sql& sql) : sql_(sql.session) {}

  std::optional<shop::Settings> settings() override;
  void put(const shop::Settings& settings) override;
  std::vector<shop::KnifeProfile> profiles() override;
  std::optional<shop::KnifeProfile> profile(const std::string& id) override;
  void put(const shop::KnifeProfile& profile) override;

 private:
  std::vector<shop::KnifeProfile> profiles_where(const std::string& condition,
                                                 const std::string& value);

  soci::session& sql_;
};

}  // namespace film::store::detail
