#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "documents/stationery.h"
#include "shop/invoice.h"
#include "shop/quote.h"

namespace film::documents {

struct InvoicePaper {
  shop::Invoice invoice;
  std::vector<shop::Payment> payments;  ///< of the job, so far
  std::string title;                    ///< of the job
  std::string vehicle;
};

/// The invoice with its taxes, the payments so far and what is open, as PDF. Same input, same
/// bytes. Errors: too_large, io.
Result<std::string> write_invoice(const InvoicePaper& paper, const Stationery& stationery);

struct QuotePaper {
  shop::Quote quote;  ///< its language is that of the paper
  std::string customer;
  std::string vehicle;
  /// What each alternative covers: panel and film by their names.
  std::vector<std::vector<std::pair<std::string, std::string>>> scopes;
};

/// The quote with its alternatives, as PDF; what things cost the shop is not in it. Same input,
/// same bytes. Errors: io, too_large (from the PDF writer).
Result<std::string> write_quote(const QuotePaper& paper, const Stationery& stationery);

}  // namespace film::documents
