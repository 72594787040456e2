#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/warranty_book.h"

namespace film::store::detail {

/// Terms, certificates and claims, in SQL.
class SqlWarranties : public virtual WarrantyBook {
 public:
  explicit SqlWarranties(Sql& sql) : sql_(sql.session) {}

  std::optional<shop::FilmTerm> film_term(const std::string& film) override;
  void put(const shop::FilmTerm& term) override;
  std::vector<shop::Certificate> certificates(const std::string& job) override;
  shop::Certificate add(shop::Certificate certificate) override;
  std::vector<shop::ClaimRecord> claims() override;
  std::vector<shop::ClaimRecord> claims(const std::string& job) override;
  std::optional<shop::ClaimRecord> claim(const std::string& id) override;
  shop::Claim add(shop::Claim claim) override;
  void append(const shop::ClaimRuling& ruling) override;

 private:
  std::vector<shop::ClaimRecord> claims_where(const std::string& condition,
                                              const std::string& value);
  std::vector<shop::ClaimRuling> rulings(const std::string& claim);

  soci::session& sql_;
};

}  // namespace film::store::detail
