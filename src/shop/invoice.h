#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "shop/money.h"

namespace film::shop {

struct InvoiceLine {
  std::string text;
  Money net;  ///< negative: a discount
  Rate tax;

  friend bool operator==(const InvoiceLine&, const InvoiceLine&) = default;
};

/// What a job costs in the end. Appended, never changed: what was wrong is set right by another
/// invoice with the difference.
struct Invoice {
  std::string id;  ///< "I-0001", given by the book
  std::string job;
  std::string bill_to;   ///< name and address, lines
  std::string currency;  ///< ISO 4217
  std::vector<InvoiceLine> lines;
  std::string note;  ///< may be empty
  std::string due;   ///< a day
  std::string issued_by;
  std::string issued;  ///< RFC 3339, UTC

  friend bool operator==(const Invoice&, const Invoice&) = default;
};

/// Errors: invalid_input naming the field (no lines or above 200, nobody billed, no day, a tax rate
/// outside 0 to 100 %), too_large.
Result<void> check(const Invoice& invoice);

struct InvoiceTotals {
  Money net;
  std::vector<TaxLine> taxes;  ///< by rate, the greatest first
  Money total;

  friend bool operator==(const InvoiceTotals&, const InvoiceTotals&) = default;
};

/// Sums as decision 0110 asks: tax per rate, rounded once. Errors: too_large.
Result<InvoiceTotals> totals_of(const Invoice& invoice);

enum class PaymentKind { deposit, payment, refund };

/// Money that changed hands for a job. How it was paid is a word ("cash", "bank transfer", "card
/// terminal"): no card is ever handled here. Appended, never changed.
struct Payment {
  std::string job;
  PaymentKind kind = PaymentKind::payment;
  Money amount;  ///< above 0; a refund goes the other way
  std::string way;
  std::string note;  ///< may be empty
  std::string who;   ///< took it down
  std::string at;    ///< RFC 3339, UTC

  friend bool operator==(const Payment&, const Payment&) = default;
};

/// Errors: invalid_input naming the field; a long run of digits in way or note, which may be the
/// number of a card.
Result<void> check(const Payment& payment);

/// What came in, refunds taken off. Errors: too_large.
Result<Money> paid(const std::vector<Payment>& payments);

}  // namespace film::shop
