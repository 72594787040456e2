// Invoices, payments and how papers look.

#include "store/detail/sql_invoices.h"

#include <sstream>

#include "base/text.h"
#include "shop/names.h"
#include "store/detail/parsed.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::optional<shop::Letterhead> SqlInvoices::letterhead() {
  shop::Letterhead head;
  std::string lines, language, paper;
  sql_ << "SELECT lines, tax_id, bank, logo, address, language, paper FROM letterhead", into(lines),
      into(head.tax_id), into(head.bank), into(head.logo), into(head.address), into(language),
      into(paper);
  if (!sql_.got_data()) return std::nullopt;
  std::istringstream all(lines);
  for (std::string line; std::getline(all, line);) head.lines.push_back(line);
  const auto known = shop::language_of(language);
  if (!known) throw Damaged("'" + language + "' is no language that the book knows");
  head.language = *known;
  head.paper = parsed<shop::PaperSize>(paper);
  return head;
}

void SqlInvoices::put(const shop::Letterhead& head) {
  std::string lines;
  for (const std::string& line : head.lines) lines += line + '\n';
  const std::string language(code_of(head.language));
  const std::string paper(name_of(head.paper));
  sql_ << "INSERT INTO letterhead (one, lines, tax_id, bank, logo, address, language, paper)"
          " VALUES (1, :lines, :tax_id, :bank, :logo, :address, :language, :paper)"
          " ON CONFLICT (one) DO UPDATE SET lines = excluded.lines, tax_id = excluded.tax_id,"
          " bank = excluded.bank, logo = excluded.logo, address = excluded.address,"
          " language = excluded.language, paper = excluded.paper",
      use(lines), use(head.tax_id), use(head.bank), use(head.logo), use(head.address),
      use(language), use(paper);
}

std::vector<shop::Invoice> SqlInvoices::invoices(const std::string& job) {
  std::vector<shop::Invoice> all;
  {
    shop::Invoice invoice;
    invoice.job = job;
    soci::statement statement =
        (sql_.prepare << "SELECT id, bill_to, currency, note, due, issued_by, issued FROM invoices"
                         " WHERE job = :job ORDER BY number",
         into(invoice.id), into(invoice.bill_to), into(invoice.currency), into(invoice.note),
         into(invoice.due), into(invoice.issued_by), into(invoice.issued), use(job));
    statement.execute();
    while (statement.fetch()) all.push_back(invoice);
  }
  for (shop::Invoice& each : all) {
    shop::InvoiceLine line;
    long long net = 0, tax = 0;
    soci::statement lines = (sql_.prepare << "SELECT text, net, tax FROM invoice_lines"
                                             " WHERE invoice = :id ORDER BY position",
                             into(line.text), into(net), into(tax), use(each.id));
    lines.execute();
    while (lines.fetch()) {
      line.net = Money{net};
      line.tax = shop::Rate{tax};
      each.lines.push_back(line);
    }
  }
  return all;
}

shop::Invoice SqlInvoices::add(shop::Invoice invoice) {
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM invoices", into(number);
  invoice.id = format("I-{:04}", number);
  sql_ << "INSERT INTO invoices (number, id, job, bill_to, currency, note, due, issued_by, issued)"
          " VALUES (:number, :id, :job, :bill_to, :currency, :note, :due, :issued_by, :issued)",
      use(number), use(invoice.id), use(invoice.job), use(invoice.bill_to), use(invoice.currency),
      use(invoice.note), use(invoice.due), use(invoice.issued_by), use(invoice.issued);
  int position = 0;
  for (const shop::InvoiceLine& line : invoice.lines) {
    const long long net = line.net.minor;
    const long long tax = line.tax.millionths;
    sql_ << "INSERT INTO invoice_lines (invoice, position, text, net, tax)"
            " VALUES (:id, :position, :text, :net, :tax)",
        use(invoice.id), use(position), use(line.text), use(net), use(tax);
    ++position;
  }
  return invoice;
}

std::vector<shop::Payment> SqlInvoices::payments(const std::string& job) {
  shop::Payment payment;
  payment.job = job;
  std::string kind;
  long long amount = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT kind, amount, way, note, who, at FROM payments WHERE job = :job"
                       " ORDER BY entry",
       into(kind), into(amount), into(payment.way), into(payment.note), into(payment.who),
       into(payment.at), use(job));
  statement.execute();
  std::vector<shop::Payment> all;
  while (statement.fetch()) {
    payment.kind = parsed<shop::PaymentKind>(kind);
    payment.amount = Money{amount};
    all.push_back(payment);
  }
  return all;
}

void SqlInvoices::append(const shop::Payment& payment) {
  const std::string kind(name_of(payment.kind));
  const long long amount = payment.amount.minor;
  sql_ << "INSERT INTO payments (job, kind, amount, way, note, who, at)"
          " VALUES (:job, :kind, :amount, :way, :note, :who, :at)",
      use(payment.job), use(kind), use(amount), use(payment.way), use(payment.note),
      use(payment.who), use(payment.at);
}

}  // namespace film::store::detail
