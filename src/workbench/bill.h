#pragma once

#include <vector>

#include "base/result.h"
#include "shop/invoice.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// What a job was billed and what was paid.
struct Account {
  std::vector<shop::Invoice> invoices;  ///< oldest first
  std::vector<shop::Payment> payments;  ///< oldest first
  Money billed;
  Money paid;
};

/// Errors: not_found, too_large, io.
Result<Account> account_of(Workbench& workbench, const std::string& job);

/// Currency (empty: the shop's), id and moment are given here; a day 14 days on when `due` is
/// empty. Errors: not_found (job), invalid_input (those of shop::check), too_large, io.
Result<shop::Invoice> issue_invoice(Workbench& workbench, shop::Invoice invoice);

/// Takes down what was paid; the moment is given here. Errors: not_found (job), invalid_input
/// (those of shop::check), conflict (a refund of more than was paid), io.
Result<shop::Payment> record_payment(Workbench& workbench, shop::Payment payment);

}  // namespace film::workbench
