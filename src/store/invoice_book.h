#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shop/invoice.h"
#include "shop/letterhead.h"

namespace film::store {

/// Invoices, payments and how papers look: a part of Book (store/book.h). Invoices and payments are
/// appended, never changed.
class InvoiceBook {
 public:
  virtual ~InvoiceBook() = default;

  virtual std::optional<shop::Letterhead> letterhead() = 0;
  virtual void put(const shop::Letterhead& letterhead) = 0;

  virtual std::vector<shop::Invoice> invoices(const std::string& job) = 0;  ///< oldest first
  /// Gives the invoice its id ("I-0001").
  virtual shop::Invoice add(shop::Invoice invoice) = 0;
  virtual std::vector<shop::Payment> payments(const std::string& job) = 0;  ///< oldest first
  virtual void append(const shop::Payment& payment) = 0;
};

}  // namespace film::store
