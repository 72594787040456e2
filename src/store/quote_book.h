#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/price_list.h"
#include "shop/quote.h"
#include "shop/worked.h"

namespace film::store {

/// A version of a quote without its figures.
struct QuoteLine {
  std::string id;
  int version = 1;
  shop::QuoteState state = shop::QuoteState::draft;
  std::string title;
  std::string customer;
  std::string vehicle;
  std::string created;
  std::string sent;
  std::string valid_until;
  std::string job;

  friend bool operator==(const QuoteLine&, const QuoteLine&) = default;
};

/// What the shop asks, what it offered, how long work took: a part of Book (store/book.h).
class QuoteBook {
 public:
  virtual ~QuoteBook() = default;

  /// The list of that revision; 0 asks for the newest.
  virtual std::optional<shop::PriceList> price_list(std::int64_t revision) = 0;
  /// Keeps the list as the revision after `list.revision` and returns it. Errors: conflict, when
  /// that was not the newest.
  virtual Result<shop::PriceList> add(shop::PriceList list) = 0;

  /// The newest version of each, newest first, at most `most`; only older ones than the quote
  /// `before` when it is not empty.
  virtual std::vector<QuoteLine> quotes(const std::string& before, std::size_t most) = 0;
  virtual std::vector<QuoteLine> quote_versions(const std::string& id) = 0;  ///< oldest first
  virtual std::vector<QuoteLine> quotes_of_job(const std::string& job) = 0;
  /// Version 0 asks for the newest.
  virtual std::optional<shop::Quote> quote(const std::string& id, int version) = 0;
  /// Keeps a new quote and gives it its id ("Q-0001"), or a new version of one that has an id.
  virtual shop::Quote add(shop::Quote quote) = 0;
  /// `quote.revision` is the new one. Errors: conflict, when the stored revision is not the one
  /// before it. The book itself refuses to change an accepted quote but for its job.
  virtual Result<void> update(const shop::Quote& quote) = 0;

  virtual std::vector<shop::Worked> worked(const std::string& job) = 0;  ///< oldest first
  /// Of all jobs, entries above `entry`, oldest first.
  virtual std::vector<shop::Worked> worked_after(std::int64_t entry) = 0;
  /// Gives the record its entry.
  virtual shop::Worked append(shop::Worked worked) = 0;
};

}  // namespace film::store
