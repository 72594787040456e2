#include "shop/quote.h"

#include <algorithm>
#include <set>

#include "base/assert.h"
#include "base/text.h"
#include "shop/day.h"
#include "shop/quote_names.h"

namespace film::shop {
namespace {

Failure refuse(const Quote& quote, ErrorCode code, std::string what, std::string remedy) {
  return fail(code, std::move(what), format("quote {} version {}", quote.id, quote.version),
              std::move(remedy));
}

std::string day_of(std::string_view at) { return std::string(at.substr(0, 10)); }

Result<void> need(const Quote& quote, QuoteState state) {
  if (quote.state == state) return {};
  return refuse(quote, ErrorCode::conflict,
                format("the quote is {}, not {}", name_of(quote.state), name_of(state)),
                "Look at the quote as it is now, then decide again.");
}

Result<void> check_offer(const Quote& quote, const Alternative& offer) {
  const auto broken = [&](std::string what, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what),
                format("quote {} {}", quote.id, offer.name), std::move(remedy));
  };
  if (offer.name.empty() || offer.name.size() > 200) {
    return broken("an alternative without a name, or a long one", "Name it in 1 to 200 bytes.");
  }
  if (offer.scope.empty() || offer.scope.size() > 1000) {
    return broken("an alternative of no panels, or past 1000", "Choose 1 to 1000 panels.");
  }
  std::set<std::string_view> panels;
  for (const ScopeItem& item : offer.scope) {
    if (!panels.insert(item.panel).second) {
      return broken(format("panel {} is there twice", item.panel), "Keep one of them.");
    }
  }
  std::vector<Money> parts{offer.price.net, Money{-offer.price.discount.minor}};
  for (const TaxLine& tax : offer.price.taxes) parts.push_back(tax.tax);
  const Result<Money> total = sum(parts);
  if (!total || *total != offer.price.total) {
    return broken("amounts that do not add up", "Have the price reckoned again.");
  }
  return {};
}

}  // namespace

Result<void> check(const Quote& quote) {
  if (quote.title.empty() || quote.title.size() > 480) {
    return refuse(quote, ErrorCode::invalid_input, "a quote without a title, or a long one",
                  "Give it one of 1 to 480 bytes.");
  }
  if (quote.note.size() > 4000) {
    return refuse(quote, ErrorCode::invalid_input, "a note that is too long", "Shorten it.");
  }
  if (quote.vehicle.empty()) {
    return refuse(quote, ErrorCode::invalid_input, "a quote without a vehicle", "Choose one.");
  }
  if (quote.currency.size() != 3) {
    return refuse(quote, ErrorCode::invalid_input, "a quote without a currency",
                  "Use the three letters of ISO 4217.");
  }
  if (quote.offers.empty() || quote.offers.size() > kMostAlternatives) {
    return refuse(quote, ErrorCode::invalid_input, format("{} alternatives", quote.offers.size()),
                  format("Offer 1 to {}.", kMostAlternatives));
  }
  if (quote.chosen >= quote.offers.size()) {
    return refuse(quote, ErrorCode::invalid_input, "a choice that was not offered",
                  "Choose one of the alternatives.");
  }
  for (const Alternative& offer : quote.offers) {
    if (auto sound = check_offer(quote, offer); !sound) return sound;
  }
  return {};
}

Result<Quote> send(Quote quote, std::string_view at, std::int64_t days) {
  if (auto draft = need(quote, QuoteState::draft); !draft) return Failure(draft.error());
  quote.state = QuoteState::sent;
  quote.sent = at;
  quote.valid_until = day_after(day_of(at), static_cast<int>(days));
  ++quote.revision;
  return quote;
}

Result<Quote> accept(Quote quote, std::size_t alternative, std::string_view who,
                     std::string_view at) {
  if (auto sent = need(quote, QuoteState::sent); !sent) return Failure(sent.error());
  if (day_of(at) > quote.valid_until) {
    return refuse(quote, ErrorCode::conflict, "the quote stood until " + quote.valid_until,
                  "Make a new version of it.");
  }
  if (alternative >= quote.offers.size()) {
    return refuse(quote, ErrorCode::invalid_input, "there is no such alternative",
                  format("Choose one of the {} offered.", quote.offers.size()));
  }
  if (who.empty() || who.size() > 200) {
    return refuse(quote, ErrorCode::invalid_input, "nobody is named who accepts",
                  "Write the name of who accepts.");
  }
  quote.state = QuoteState::accepted;
  quote.chosen = alternative;
  quote.decided = at;
  quote.decided_by = who;
  ++quote.revision;
  return quote;
}

Result<Quote> decline(Quote quote, std::string_view who, std::string_view at) {
  if (auto sent = need(quote, QuoteState::sent); !sent) return Failure(sent.error());
  quote.state = QuoteState::declined;
  quote.decided = at;
  quote.decided_by = who;
  ++quote.revision;
  return quote;
}

Quote as_of(Quote quote, std::string_view at) {
  if (quote.state == QuoteState::sent && day_of(at) > quote.valid_until) {
    quote.state = QuoteState::expired;
    quote.decided = at;
    ++quote.revision;
  }
  return quote;
}

Result<Renewed> renew(Quote quote, std::string_view at) {
  if (quote.state == QuoteState::accepted) {
    return refuse(quote, ErrorCode::conflict, "an accepted quote is frozen",
                  "Write another quote for what is to be different.");
  }
  if (quote.state == QuoteState::draft || quote.state == QuoteState::replaced) {
    return refuse(quote, ErrorCode::conflict, format("this version is {}", name_of(quote.state)),
                  "Change the draft as it is.");
  }
  Renewed renewed{quote, std::move(quote)};
  if (renewed.before.state == QuoteState::sent) {
    renewed.before.state = QuoteState::replaced;
    renewed.before.decided = at;
    ++renewed.before.revision;
  }
  Quote& draft = renewed.draft;
  ++draft.version;
  draft.state = QuoteState::draft;
  draft.revision = 1;
  draft.created = at;
  draft.sent.clear();
  draft.valid_until.clear();
  draft.decided.clear();
  draft.decided_by.clear();
  draft.chosen = 0;
  return renewed;
}

Result<Quote> with_job(Quote quote, std::string job) {
  if (auto accepted = need(quote, QuoteState::accepted); !accepted) {
    return Failure(accepted.error());
  }
  if (!quote.job.empty()) {
    return refuse(quote, ErrorCode::conflict, format("it has its job {}", quote.job),
                  "Open that job.");
  }
  quote.job = std::move(job);
  ++quote.revision;
  return quote;
}

const Alternative& accepted_offer(const Quote& quote) {
  FILM_ASSERT(quote.state == QuoteState::accepted && quote.chosen < quote.offers.size());
  return quote.offers[quote.chosen];
}

}  // namespace film::shop
