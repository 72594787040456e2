#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "shop/job.h"
#include "shop/language.h"
#include "shop/price.h"

namespace film::shop {

/// Where one version of a quote is in its life.
///
///     draft -> sent -> accepted | declined | expired
///     draft | sent -> replaced    by a newer version
enum class QuoteState { draft, sent, accepted, declined, expired, replaced };

/// One way to do it; a quote sets several side by side.
struct Alternative {
  std::string name;     ///< "full front, as it is"
  std::string package;  ///< id it began with; may be empty
  std::string look;     ///< id; may be empty
  std::vector<ScopeItem> scope;
  bool coating = false;
  Discount discount;
  WorkNeed work;
  Price price;

  friend bool operator==(const Alternative&, const Alternative&) = default;
};

/// One version of a quote, with its figures as they were when it was reckoned.
struct Quote {
  std::string id;  ///< "Q-0001"
  int version = 1;
  QuoteState state = QuoteState::draft;
  std::int64_t revision = 1;  ///< counts every change; a stale writer is refused
  std::string title;
  std::string customer;  ///< name or id of the customer; may be empty
  std::string vehicle;   ///< id of a vehicle model
  int vehicle_version = 1;
  std::string note;  ///< for the customer; may be empty
  Language language = Language::english;
  std::string currency;         ///< ISO 4217
  std::int64_t price_list = 0;  ///< revision of the price list it was reckoned with
  std::string created;          ///< RFC 3339, UTC
  std::string sent;             ///< the same; empty before
  std::string valid_until;      ///< the last day it stands, "2031-06-04"; empty before it is sent
  std::string decided;          ///< when accepted, declined, expired or replaced; empty before
  std::string decided_by;       ///< who accepted or declined; empty before
  std::string job;              ///< made from it; empty before
  std::size_t chosen = 0;       ///< index of the accepted alternative
  std::vector<Alternative> offers;  ///< 1 to 6

  friend bool operator==(const Quote&, const Quote&) = default;
};

constexpr std::size_t kMostAlternatives = 6;

/// Checks a quote on its own: title, currency, 1 to 6 alternatives with names and a scope of 1 to
/// 1000 panels, none twice in one of them, amounts that add up. Errors: invalid_input.
Result<void> check(const Quote& quote);

/// Sends the draft: it stands until `days` after `at`. Errors: conflict (not a draft).
Result<Quote> send(Quote quote, std::string_view at, std::int64_t days);

/// The customer takes one alternative. From then on nothing in it changes but the job made from it.
/// Errors: conflict (not sent; past its last day), invalid_input (no such alternative, no name).
Result<Quote> accept(Quote quote, std::size_t alternative, std::string_view who,
                     std::string_view at);

/// Errors: conflict (not sent).
Result<Quote> decline(Quote quote, std::string_view who, std::string_view at);

/// A sent quote whose last day is over has expired, one of another state is as it was.
Quote as_of(Quote quote, std::string_view at);

/// The draft that takes the place of this version, and this version as replaced. Errors: conflict
/// (accepted: an accepted quote is frozen; a draft: change it).
struct Renewed {
  Quote before;
  Quote draft;
};
Result<Renewed> renew(Quote quote, std::string_view at);

/// Gives an accepted quote its job. Errors: conflict (not accepted, or it has one).
Result<Quote> with_job(Quote quote, std::string job);

/// The accepted alternative. Asks for an accepted quote.
const Alternative& accepted_offer(const Quote& quote);

}  // namespace film::shop
