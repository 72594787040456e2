#include "documents/bill.h"

#include <map>

#include "base/text.h"
#include "documents/detail/sheet.h"
#include "documents/detail/words.h"

namespace film::documents {
namespace {

using shop::Language;

/// Money columns stand to the right.
std::vector<TableColumn> money_columns(Language in) {
  return {{std::string(words::what(in)), 7},
          {std::string(words::tax(in)), 1.6, Align::right},
          {std::string(words::net(in)), 2.4, Align::right}};
}

TableRow sum_row(std::string_view text, Money amount, const std::string& currency, Language in) {
  return {{std::string(text), "", shop::text_of(amount, currency, in)}, true, ""};
}

void tax_rows(const std::vector<shop::TaxLine>& taxes, const std::string& currency, Language in,
              std::vector<TableRow>& rows) {
  for (const shop::TaxLine& line : taxes) {
    rows.push_back(
        {{format("{} {}", words::tax(in), shop::text_of(line.rate, in)),
          shop::text_of(line.base, currency, in), shop::text_of(line.tax, currency, in)}});
  }
}

Word word_for(shop::PaymentKind kind) {
  switch (kind) {
    case shop::PaymentKind::deposit: return words::deposit;
    case shop::PaymentKind::payment: return words::payment;
    case shop::PaymentKind::refund: return words::refund;
  }
  return words::payment;
}

Word word_for(shop::PriceKind kind) {
  switch (kind) {
    case shop::PriceKind::film: return words::film;
    case shop::PriceKind::laying: return {"Laying the film", "Folie verlegen"};
    case shop::PriceKind::preparation: return {"Preparation", "Vorbereitung"};
    case shop::PriceKind::coating: return {"Coating", "Beschichtung"};
    case shop::PriceKind::consumables: return {"Consumables", "Verbrauchsmaterial"};
  }
  return words::what;
}

void payments(const InvoicePaper& paper, const shop::InvoiceTotals& totals, Money paid,
              Sheet& sheet) {
  const Language in = sheet.language();
  const std::string& currency = paper.invoice.currency;
  std::vector<TableRow> rows;
  for (const shop::Payment& each : paper.payments) {
    const Money amount =
        each.kind == shop::PaymentKind::refund ? Money{0} - each.amount : each.amount;
    rows.push_back({{std::string(word_for(each.kind)(in)), each.way, date_text(each.at, in),
                     shop::text_of(amount, currency, in)},
                    false,
                    each.note});
  }
  rows.push_back(
      {{std::string(words::paid(in)), "", "", shop::text_of(paid, currency, in)}, true, ""});
  rows.push_back({{std::string(words::open_amount(in)), "", "",
                   shop::text_of(totals.total - paid, currency, in)},
                  true,
                  ""});
  sheet.heading(words::payments(in));
  sheet.table({{std::string(words::what(in)), 3},
               {"", 3},
               {std::string(words::date(in)), 2.6},
               {std::string(words::total(in)), 2.4, Align::right}},
              rows);
}

void offer(const shop::Quote& quote, std::size_t index, const QuotePaper& paper, Sheet& sheet) {
  const Language in = sheet.language();
  const shop::Alternative& each = quote.offers[index];
  sheet.heading(quote.offers.size() > 1 ? format("{}   {}", index + 1, each.name) : each.name, 40);
  std::vector<TableRow> rows;
  for (const shop::PriceLine& line : each.price.lines) {
    const std::string name = line.kind == shop::PriceKind::film
                                 ? format("{}: {}", words::film(in), line.name)
                                 : std::string(word_for(line.kind)(in));
    rows.push_back(
        {{name, shop::text_of(line.tax, in), shop::text_of(line.net, quote.currency, in)}});
  }
  const shop::Price& price = each.price;
  if (price.discount != Money{0}) {
    rows.push_back({{std::string(words::discount(in)), "",
                     shop::text_of(Money{0} - price.discount, quote.currency, in)}});
  }
  rows.push_back(sum_row(words::net(in), price.net - price.discount, quote.currency, in));
  tax_rows(price.taxes, quote.currency, in, rows);
  rows.push_back(sum_row(words::total(in), price.total, quote.currency, in));
  if (price.deposit != Money{0}) {
    rows.push_back(
        {{std::string(words::deposit(in)), "", shop::text_of(price.deposit, quote.currency, in)}});
  }
  sheet.table(money_columns(in), rows);
  if (index >= paper.scopes.size() || paper.scopes[index].empty()) return;
  std::map<std::string, std::string> by_film;
  for (const auto& [panel, film] : paper.scopes[index]) {
    std::string& panels = by_film[film];
    panels += (panels.empty() ? "" : ", ") + panel;
  }
  sheet.say(words::covered(in), kStrong, 1);
  for (const auto& [film, panels] : by_film) {
    sheet.say(format("{}: {}", film, panels), kBody, 1.5);
  }
  sheet.gap(5);
}

}  // namespace

Result<std::string> write_invoice(const InvoicePaper& paper, const Stationery& stationery) {
  const Language in = stationery.head.language;
  const shop::Invoice& invoice = paper.invoice;
  const auto totals = shop::totals_of(invoice);
  if (!totals) return Failure(totals.error());
  const auto paid = shop::paid(paper.payments);
  if (!paid) return Failure(paid.error());
  const PaperTitle title{format("{} {}", words::invoice(in), invoice.id), invoice.job,
                         invoice.issued, link_to(stationery, "jobs/" + invoice.job)};
  return composed(stationery, title, [&](Sheet& sheet) {
    sheet.masthead({paper.title});
    sheet.facts({{std::string(words::bill_to(in)), invoice.bill_to},
                 {std::string(words::vehicle(in)), paper.vehicle},
                 {std::string(words::date(in)), date_text(invoice.issued, in)},
                 {std::string(words::due(in)), date_text(invoice.due, in)}});
    std::vector<TableRow> rows;
    for (const shop::InvoiceLine& line : invoice.lines) {
      rows.push_back({{line.text, shop::text_of(line.tax, in),
                       shop::text_of(line.net, invoice.currency, in)}});
    }
    rows.push_back(sum_row(words::net(in), totals->net, invoice.currency, in));
    tax_rows(totals->taxes, invoice.currency, in, rows);
    rows.push_back(sum_row(words::total(in), totals->total, invoice.currency, in));
    sheet.table(money_columns(in), rows);
    payments(paper, *totals, *paid, sheet);
    sheet.say(invoice.note, kBody, 3);
    sheet.say(stationery.head.bank, kStrong, 1);
    if (!stationery.head.tax_id.empty()) {
      sheet.say(format("{} {}", words::tax_id(in), stationery.head.tax_id), kSmall);
    }
  });
}

Result<std::string> write_quote(const QuotePaper& paper, const Stationery& given) {
  Stationery stationery = given;
  stationery.head.language = paper.quote.language;
  const Language in = paper.quote.language;
  const shop::Quote& quote = paper.quote;
  const std::string number =
      quote.version > 1 ? format("{}-{}", quote.id, quote.version) : quote.id;
  const PaperTitle title{format("{} {}", words::quote(in), number), "",
                         quote.sent.empty() ? quote.created : quote.sent,
                         link_to(stationery, "quotes/" + quote.id)};
  return composed(stationery, title, [&](Sheet& sheet) {
    sheet.masthead({quote.title});
    std::vector<std::pair<std::string, std::string>> facts{
        {std::string(words::customer(in)), paper.customer},
        {std::string(words::vehicle(in)), paper.vehicle},
        {std::string(words::date(in)), date_text(title.date, in)}};
    if (!quote.valid_until.empty()) {
      facts.emplace_back(std::string(words::valid_until(in)), date_text(quote.valid_until, in));
    }
    sheet.facts(facts);
    sheet.say(quote.note, kBody, 5);
    for (std::size_t i = 0; i < quote.offers.size(); ++i) offer(quote, i, paper, sheet);
    sheet.signatures({std::string(words::accept(in))});
    if (!stationery.head.tax_id.empty()) {
      sheet.say(format("{} {}", words::tax_id(in), stationery.head.tax_id), kSmall);
    }
  });
}

}  // namespace film::documents
