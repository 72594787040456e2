#include "workbench/quote_work.h"

#include "base/text.h"
#include "shop/quote_names.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/price_list.h"
#include "workbench/price_offer.h"

namespace film::workbench {
namespace {

Failure no_quote(const std::string& id) {
  return fail(ErrorCode::not_found, "there is no such quote", "quote " + id,
              "Choose one of the quotes in the book.");
}

/// The newest version as of now: what ran out of time is written down as expired.
Result<shop::Quote> newest(store::Book& book, const QuoteMove& move) {
  auto found = book.quote(move.quote, 0);
  if (!found) return no_quote(move.quote);
  if (move.revision != 0 && move.revision != found->revision) {
    return fail(ErrorCode::conflict, "someone else changed the quote first", "quote " + move.quote,
                "Look at the quote as it is now, then decide again.");
  }
  return std::move(*found);
}

/// Makes a move and keeps it.
template <class Step>
Result<shop::Quote> change(Workbench& workbench, const QuoteMove& move, Step step) {
  return workbench.store().change([&](store::Book& book) -> Result<shop::Quote> {
    auto found = newest(book, move);
    if (!found) return found;
    auto moved = step(std::move(*found));
    if (!moved) return moved;
    if (auto kept = book.update(*moved); !kept) return Failure(kept.error());
    return moved;
  });
}

Result<shop::Alternative> reckoned(Workbench& workbench, const QuoteDraft& draft,
                                   const OfferDraft& offer, shop::Quote& quote,
                                   const Context& context) {
  OfferOrder order;
  order.vehicle = draft.vehicle;
  order.scope = offer.scope;
  order.coating = offer.coating;
  order.discount = offer.discount;
  order.study = true;
  auto priced = price_offer(workbench, order, context);
  if (!priced) return Failure(priced.error());
  quote.vehicle_version = priced->vehicle_version;
  quote.price_list = priced->price_list;
  quote.currency = priced->currency;
  shop::Alternative alternative;
  alternative.name = offer.name;
  alternative.package = offer.package;
  alternative.look = offer.look;
  alternative.scope = offer.scope;
  alternative.coating = offer.coating;
  alternative.discount = offer.discount;
  alternative.work = std::move(priced->work);
  alternative.price = std::move(priced->price);
  return alternative;
}

/// Puts what was drafted in the place of the draft that is there.
Result<shop::Quote> keep(store::Book& book, const QuoteDraft& draft, shop::Quote quote) {
  if (draft.id.empty()) return book.add(std::move(quote));
  const auto found = newest(book, {draft.id, draft.revision});
  if (!found) return found;
  if (found->state != shop::QuoteState::draft) {
    return fail(ErrorCode::conflict,
                format("the quote is {}, not a draft", shop::name_of(found->state)),
                "quote " + draft.id, "Begin a new version of it.");
  }
  quote.id = found->id;
  quote.version = found->version;
  quote.created = found->created;
  quote.revision = found->revision + 1;
  if (auto kept = book.update(quote); !kept) return Failure(kept.error());
  return quote;
}

}  // namespace

Result<shop::Quote> draft_quote(Workbench& workbench, const QuoteDraft& draft,
                                const Context& context) {
  shop::Quote quote;
  quote.title = draft.title;
  quote.customer = draft.customer;
  quote.vehicle = draft.vehicle;
  quote.note = draft.note;
  quote.language = draft.language;
  quote.created = now();
  for (const OfferDraft& offer : draft.offers) {
    auto alternative = reckoned(workbench, draft, offer, quote, context);
    if (!alternative) return Failure(alternative.error());
    quote.offers.push_back(std::move(*alternative));
  }
  if (auto sound = shop::check(quote); !sound) return Failure(sound.error());
  return workbench.store().change(
      [&](store::Book& book) { return keep(book, draft, std::move(quote)); });
}

Result<shop::Quote> send_quote(Workbench& workbench, const QuoteMove& move) {
  const auto list = price_list(workbench);
  if (!list) return Failure(list.error());
  return change(workbench, move, [&list](shop::Quote quote) {
    return shop::send(std::move(quote), now(), list->valid_days);
  });
}

Result<Accepted> accept_quote(Workbench& workbench, const QuoteMove& move, std::size_t alternative,
                              const std::string& by, const std::string& who) {
  return workbench.store().change([&](store::Book& book) -> Result<Accepted> {
    auto found = newest(book, move);
    if (!found) return Failure(found.error());
    auto accepted = shop::accept(std::move(*found), alternative, by, now());
    if (!accepted) return Failure(accepted.error());
    if (auto kept = book.update(*accepted); !kept) return Failure(kept.error());

    const shop::Alternative& offer = shop::accepted_offer(*accepted);
    shop::Job job;
    job.title = accepted->title;
    job.customer = accepted->customer;
    job.vehicle = accepted->vehicle;
    job.vehicle_version = accepted->vehicle_version;
    job.scope = offer.scope;
    job.created = accepted->decided;
    if (auto sound = shop::check(job); !sound) return Failure(sound.error());
    job = book.add(std::move(job));
    book.append(job.id,
                shop::HistoryEntry{
                    job.created, who, "opened",
                    format("{} panels of {}, from quote {} version {}, accepted by {}",
                           job.scope.size(), job.vehicle, accepted->id, accepted->version, by)});
    auto with_job = shop::with_job(std::move(*accepted), job.id);
    if (!with_job) return Failure(with_job.error());
    if (auto kept = book.update(*with_job); !kept) return Failure(kept.error());
    return Accepted{std::move(*with_job), std::move(job)};
  });
}

Result<shop::Quote> decline_quote(Workbench& workbench, const QuoteMove& move,
                                  const std::string& by) {
  return change(workbench, move,
                [&by](shop::Quote quote) { return shop::decline(std::move(quote), by, now()); });
}

Result<shop::Quote> renew_quote(Workbench& workbench, const QuoteMove& move) {
  return workbench.store().change([&](store::Book& book) -> Result<shop::Quote> {
    auto found = newest(book, move);
    if (!found) return found;
    const std::string at = now();
    auto renewed = shop::renew(shop::as_of(*found, at), at);
    if (!renewed) return Failure(renewed.error());
    if (renewed->before.revision != found->revision) {
      if (auto kept = book.update(renewed->before); !kept) return Failure(kept.error());
    }
    return book.add(std::move(renewed->draft));
  });
}

Result<QuotePage> quotes(Workbench& workbench, const std::string& before, std::size_t most) {
  return workbench.store().look([&](store::Book& book) -> Result<QuotePage> {
    if (!before.empty() && book.quote_versions(before).empty()) return no_quote(before);
    QuotePage page{book.quotes(before, most + 1), ""};
    if (page.quotes.size() > most) {
      page.quotes.resize(most);
      page.next = page.quotes.back().id;
    }
    const std::string today = now().substr(0, 10);
    for (store::QuoteLine& line : page.quotes) {
      if (line.state == shop::QuoteState::sent && today > line.valid_until) {
        line.state = shop::QuoteState::expired;
      }
    }
    return page;
  });
}

Result<shop::Quote> quote(Workbench& workbench, const std::string& id, int version) {
  return workbench.store().look([&](store::Book& book) -> Result<shop::Quote> {
    auto found = book.quote(id, version);
    if (!found) return no_quote(id);
    // What is told is told as of now; it is written down with the next move.
    const std::int64_t revision = found->revision;
    shop::Quote told = shop::as_of(std::move(*found), now());
    told.revision = revision;
    return told;
  });
}

Result<std::vector<store::QuoteLine>> quote_versions(Workbench& workbench, const std::string& id) {
  return workbench.store().look([&](store::Book& book) -> Result<std::vector<store::QuoteLine>> {
    auto versions = book.quote_versions(id);
    if (versions.empty()) return no_quote(id);
    return versions;
  });
}

}  // namespace film::workbench
