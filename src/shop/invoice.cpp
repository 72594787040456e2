#include "shop/invoice.h"

#include <algorithm>
#include <map>

#include "shop/day.h"
#include "shop/detail/text_fields.h"

namespace film::shop {
namespace {

constexpr std::size_t kMostLines = 200;

Failure refuse(std::string what, std::string where, std::string remedy) {
  return fail(ErrorCode::invalid_input, std::move(what), std::move(where), std::move(remedy));
}

/// Thirteen digits and more, with blanks or dashes between, are how card numbers look (ISO/IEC
/// 7812-1: up to 19 digits; in use are 13 to 19).
bool looks_like_a_card(const std::string& text) {
  int digits = 0;
  for (const char c : text) {
    if (c >= '0' && c <= '9') {
      if (++digits >= 13) return true;
    } else if (c != ' ' && c != '-') {
      digits = 0;
    }
  }
  return false;
}

}  // namespace

Result<void> check(const Invoice& invoice) {
  if (auto sound = detail::check({{invoice.job, "job"},
                                  {invoice.bill_to, "bill_to", 2, 1000},
                                  {invoice.currency, "currency", 3, 3},
                                  {invoice.note, "note", 0, 2000},
                                  {invoice.issued_by, "issued_by"}});
      !sound) {
    return sound;
  }
  if (invoice.lines.empty() || invoice.lines.size() > kMostLines) {
    return refuse(format("an invoice of {} lines", invoice.lines.size()), "lines",
                  format("Give 1 to {} lines.", kMostLines));
  }
  for (const InvoiceLine& line : invoice.lines) {
    if (auto sound = detail::check({{line.text, "lines", 1, 1000}}); !sound) return sound;
    if (line.tax < Rate{0} || line.tax > Rate::percent(100)) {
      return refuse("a tax outside 0 to 100 %", "lines", "Give the rate in percent.");
    }
  }
  if (!is_day(invoice.due)) {
    return refuse("'" + invoice.due + "' is not a day", "due", "Write it as 2031-05-04.");
  }
  const auto totals = totals_of(invoice);
  return totals ? Result<void>() : Failure(totals.error());
}

Result<InvoiceTotals> totals_of(const Invoice& invoice) {
  std::map<Rate, std::vector<Money>, std::greater<>> by_rate;
  for (const InvoiceLine& line : invoice.lines) by_rate[line.tax].push_back(line.net);
  InvoiceTotals totals;
  std::vector<Money> bases;
  std::vector<Money> all;
  for (const auto& [rate, amounts] : by_rate) {
    const auto base = sum(amounts);
    if (!base) return Failure(base.error());
    const auto tax = share(*base, rate);
    if (!tax) return Failure(tax.error());
    totals.taxes.push_back({rate, *base, *tax});
    bases.push_back(*base);
    all.insert(all.end(), {*base, *tax});
  }
  const auto net = sum(bases);
  if (!net) return Failure(net.error());
  const auto total = sum(all);
  if (!total) return Failure(total.error());
  totals.net = *net;
  totals.total = *total;
  return totals;
}

Result<void> check(const Payment& payment) {
  if (auto sound = detail::check({{payment.job, "job"},
                                  {payment.way, "way", 2, 240},
                                  {payment.note, "note", 0, 1000},
                                  {payment.who, "who"}});
      !sound) {
    return sound;
  }
  if (payment.amount <= Money{0} || payment.amount > kMostMoney) {
    return refuse("a payment of nothing", "amount", "Give an amount above 0.");
  }
  if (looks_like_a_card(payment.way) || looks_like_a_card(payment.note)) {
    return refuse("this may be the number of a card", "way",
                  "Write only how it was paid, such as card terminal.");
  }
  return {};
}

Result<Money> paid(const std::vector<Payment>& payments) {
  std::vector<Money> amounts;
  for (const Payment& payment : payments) {
    amounts.push_back(payment.kind == PaymentKind::refund ? Money{0} - payment.amount
                                                          : payment.amount);
  }
  return sum(amounts);
}

}  // namespace film::shop
