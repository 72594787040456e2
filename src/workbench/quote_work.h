#pragma once

#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "shop/job.h"
#include "shop/quote.h"
#include "store/quote_book.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// One alternative as asked for.
struct OfferDraft {
  std::string name;
  std::string package;
  std::string look;
  std::vector<shop::ScopeItem> scope;
  bool coating = false;
  shop::Discount discount;
};

struct QuoteDraft {
  std::string id;             ///< of the quote to change; empty: a new one
  std::int64_t revision = 0;  ///< of the draft as it was read; 0 with a new one
  std::string title;
  std::string customer;
  std::string vehicle;
  std::string note;
  shop::Language language = shop::Language::english;
  std::vector<OfferDraft> offers;
};

/// Reckons and keeps a draft: a new quote, or the newest version of one where that is a draft.
/// Panels that nobody studied yet are studied. Errors: those of price_offer and shop::check;
/// not_found, conflict (no draft; someone else changed it first), io.
Result<shop::Quote> draft_quote(Workbench& workbench, const QuoteDraft& draft,
                                const Context& context);

/// A move of the newest version of a quote. `revision` is that of the quote as it was read; 0 does
/// not ask. Errors: not_found, conflict and those of shop/quote.h, io.
struct QuoteMove {
  std::string quote;
  std::int64_t revision = 0;
};
Result<shop::Quote> send_quote(Workbench& workbench, const QuoteMove& move);
/// The customer takes one alternative and the job is opened on its scope, in one change.
struct Accepted {
  shop::Quote quote;
  shop::Job job;
};
Result<Accepted> accept_quote(Workbench& workbench, const QuoteMove& move, std::size_t alternative,
                              const std::string& by, const std::string& who);
Result<shop::Quote> decline_quote(Workbench& workbench, const QuoteMove& move,
                                  const std::string& by);
/// A new draft with the figures of the last version.
Result<shop::Quote> renew_quote(Workbench& workbench, const QuoteMove& move);

/// The newest version of each quote, newest quote first, a page at a time; what ran out of time is
/// told as expired. `before` is `next` of the page before; empty: the first page.
struct QuotePage {
  std::vector<store::QuoteLine> quotes;
  std::string next;  ///< the last quote here when older ones follow, else empty
};
/// Errors: not_found (`before` is no quote), io.
Result<QuotePage> quotes(Workbench& workbench, const std::string& before = {},
                         std::size_t most = 200);
/// Version 0 asks for the newest. Errors: not_found, io.
Result<shop::Quote> quote(Workbench& workbench, const std::string& id, int version = 0);
Result<std::vector<store::QuoteLine>> quote_versions(Workbench& workbench, const std::string& id);

}  // namespace film::workbench
