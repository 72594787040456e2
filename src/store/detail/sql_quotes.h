#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/quote_book.h"

namespace film::store::detail {

/// Price lists, quotes and records of hours, in SQL.
class SqlQuotes : public virtual QuoteBook {
 public:
  explicit SqlQuotes(Sql& sql) : sql_(sql.session) {}

  std::optional<shop::PriceList> price_list(std::int64_t revision) override;
  Result<shop::PriceList> add(shop::PriceList list) override;
  std::vector<QuoteLine> quotes(const std::string& before, std::size_t most) override;
  std::vector<QuoteLine> quotes_of_job(const std::string& job) override;
  std::vector<QuoteLine> quote_versions(const std::string& id) override;
  std::optional<shop::Quote> quote(const std::string& id, int version) override;
  shop::Quote add(shop::Quote quote) override;
  Result<void> update(const shop::Quote& quote) override;
  std::vector<shop::Worked> worked(const std::string& job) override;
  std::vector<shop::Worked> worked_after(std::int64_t entry) override;
  shop::Worked append(shop::Worked worked) override;

 private:
  std::vector<QuoteLine> lines_where(const std::string& condition, const std::string& value);
  template <class Value>
  std::vector<shop::Worked> worked_where(const std::string& condition, const Value& value);

  soci::session& sql_;
};

}  // namespace film::store::detail
