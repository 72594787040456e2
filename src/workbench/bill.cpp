#include "workbench/bill.h"

#include "base/text.h"
#include "shop/day.h"
#include "shop/names.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"

namespace film::workbench {

Result<Account> account_of(Workbench& workbench, const std::string& id) {
  return workbench.store().look([&](store::Book& book) -> Result<Account> {
    if (const auto job = find_job(book, id); !job) return Failure(job.error());
    Account account{book.invoices(id), book.payments(id), {}, {}};
    std::vector<Money> totals;
    for (const shop::Invoice& invoice : account.invoices) {
      const auto each = shop::totals_of(invoice);
      if (!each) return Failure(each.error());
      totals.push_back(each->total);
    }
    const auto billed = shop::sum(totals);
    if (!billed) return Failure(billed.error());
    const auto paid = shop::paid(account.payments);
    if (!paid) return Failure(paid.error());
    account.billed = *billed;
    account.paid = *paid;
    return account;
  });
}

Result<shop::Invoice> issue_invoice(Workbench& workbench, shop::Invoice invoice) {
  constexpr int kDaysToPay = 14;
  invoice.issued = now();
  if (invoice.due.empty()) invoice.due = shop::day_after(invoice.issued.substr(0, 10), kDaysToPay);
  return workbench.store().change([&](store::Book& book) -> Result<shop::Invoice> {
    if (const auto job = find_job(book, invoice.job); !job) return Failure(job.error());
    if (const auto settings = book.settings(); settings && invoice.currency.empty()) {
      invoice.currency = settings->currency;
    }
    if (auto sound = shop::check(invoice); !sound) return Failure(sound.error());
    shop::Invoice issued = book.add(invoice);
    book.append(invoice.job, {invoice.issued, invoice.issued_by, "invoice issued", issued.id});
    return issued;
  });
}

Result<shop::Payment> record_payment(Workbench& workbench, shop::Payment payment) {
  if (auto sound = shop::check(payment); !sound) return Failure(sound.error());
  payment.at = now();
  return workbench.store().change([&](store::Book& book) -> Result<shop::Payment> {
    if (const auto job = find_job(book, payment.job); !job) return Failure(job.error());
    auto payments = book.payments(payment.job);
    payments.push_back(payment);
    const auto paid = shop::paid(payments);
    if (!paid) return Failure(paid.error());
    if (*paid < Money{0}) {
      return fail(ErrorCode::conflict, "a refund of more than was paid", "job " + payment.job,
                  "Look at what was paid for the job.");
    }
    book.append(payment);
    book.append(payment.job, {payment.at, payment.who,
                              format("{} taken down", shop::name_of(payment.kind)), payment.way});
    return payment;
  });
}

}  // namespace film::workbench
