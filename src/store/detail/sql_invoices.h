#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/invoice_book.h"

namespace film::store::detail {

/// Invoices, payments and the letterhead, in SQL.
class SqlInvoices : public virtual InvoiceBook {
 public:
  explicit SqlInvoices(Sql& sql) : sql_(sql.session) {}

  std::optional<shop::Letterhead> letterhead() override;
  void put(const shop::Letterhead& letterhead) override;
  std::vector<shop::Invoice> invoices(const std::string& job) override;
  shop::Invoice add(shop::Invoice invoice) override;
  std::vector<shop::Payment> payments(const std::string& job) override;
  void append(const shop::Payment& payment) override;

 private:
  soci::session& sql_;
};

}  // namespace film::store::detail
