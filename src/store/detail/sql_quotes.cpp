// Price lists, quotes and records of hours.

#include "store/detail/sql_quotes.h"

#include <charconv>

#include "base/text.h"
#include "exchange/price_list_json.h"
#include "exchange/quote_json.h"
#include "shop/quote_names.h"
#include "store/detail/parsed.h"

namespace film::store::detail {
namespace {

/// The figures, without what the columns beside them say and may still change.
std::string document_of(shop::Quote quote) {
  quote.revision = 0;
  quote.job.clear();
  return exchange::write_quote(quote);
}

std::string text_of(const hours::Amounts& amounts) {
  std::string text;
  for (const double amount : amounts) text += format("{}{}", text.empty() ? "" : " ", amount);
  return text;
}

/// Terms that came later than the record are nothing in it.
hours::Amounts amounts_of(const std::string& text) {
  hours::Amounts amounts{};
  const char* at = text.data();
  const char* const end = at + text.size();
  for (double& amount : amounts) {
    while (at != end && *at == ' ') ++at;
    if (at == end) break;
    const auto [next, error] = std::from_chars(at, end, amount);
    if (error != std::errc{}) throw Damaged("'" + text + "' are no amounts of work");
    at = next;
  }
  return amounts;
}

}  // namespace

using soci::into;
using soci::use;

std::optional<shop::PriceList> SqlQuotes::price_list(std::int64_t revision) {
  const long long wanted = revision;
  std::string document;
  sql_ << "SELECT document FROM price_lists WHERE revision = CASE WHEN :wanted = 0"
          " THEN (SELECT max(revision) FROM price_lists) ELSE :wanted END",
      into(document), use(wanted, "wanted");
  if (!sql_.got_data()) return std::nullopt;
  return kept(exchange::read_price_list(document));
}

Result<shop::PriceList> SqlQuotes::add(shop::PriceList list) {
  long long newest = 0;
  sql_ << "SELECT coalesce(max(revision), 0) FROM price_lists", into(newest);
  if (list.revision != newest) {
    return fail(ErrorCode::conflict, "someone else changed the price list first",
                format("price list revision {}", list.revision),
                "Look at the list as it is now, then change it again.");
  }
  const long long revision = ++list.revision;
  const std::string document = exchange::write_price_list(list);
  sql_ << "INSERT INTO price_lists (revision, document) VALUES (:revision, :document)",
      use(revision), use(document);
  return list;
}

std::vector<QuoteLine> SqlQuotes::quotes(const std::string& before, std::size_t most) {
  return lines_where(
      format("version = (SELECT max(version) FROM quotes others WHERE others.id = quotes.id)"
             " AND (:value = '' OR number < (SELECT min(number) FROM quotes before WHERE before.id"
             " = :value)) ORDER BY number DESC LIMIT {}",
             most),
      before);
}

std::vector<QuoteLine> SqlQuotes::quote_versions(const std::string& id) {
  return lines_where("id = :value ORDER BY version", id);
}

std::vector<QuoteLine> SqlQuotes::quotes_of_job(const std::string& job) {
  return lines_where("job <> '' AND job = :value ORDER BY number, version", job);
}

std::vector<QuoteLine> SqlQuotes::lines_where(const std::string& condition,
                                              const std::string& value) {
  QuoteLine line;
  std::string state;
  soci::statement statement =
      (sql_.prepare << "SELECT id, version, state, title, customer, vehicle, created, sent,"
                       " valid_until, job FROM quotes WHERE " +
                           condition,
       into(line.id), into(line.version), into(state), into(line.title), into(line.customer),
       into(line.vehicle), into(line.created), into(line.sent), into(line.valid_until),
       into(line.job), use(value, "value"));
  statement.execute();
  std::vector<QuoteLine> lines;
  while (statement.fetch()) {
    line.state = parsed<shop::QuoteState>(state);
    lines.push_back(line);
  }
  return lines;
}

std::optional<shop::Quote> SqlQuotes::quote(const std::string& id, int version) {
  std::string document, job;
  long long revision = 0;
  sql_ << "SELECT document, revision, job FROM quotes WHERE id = :id AND version = CASE WHEN"
          " :version = 0 THEN (SELECT max(version) FROM quotes WHERE id = :id) ELSE :version END",
      into(document), into(revision), into(job), use(id, "id"), use(version, "version");
  if (!sql_.got_data()) return std::nullopt;
  shop::Quote quote = kept(exchange::read_quote(document));
  quote.revision = revision;
  quote.job = job;
  return quote;
}

shop::Quote SqlQuotes::add(shop::Quote quote) {
  long long number = 0;
  if (quote.id.empty()) {
    sql_ << "SELECT coalesce(max(number), 0) + 1 FROM quotes", into(number);
    quote.id = format("Q-{:04}", number);
    quote.version = 1;
  } else {
    sql_ << "SELECT number FROM quotes WHERE id = :id AND version = 1", into(number), use(quote.id);
  }
  quote.revision = 1;
  const std::string state(name_of(quote.state));
  const std::string document = document_of(quote);
  const long long revision = quote.revision;
  sql_ << "INSERT INTO quotes (number, id, version, state, revision, title, customer, vehicle,"
          " created, sent, valid_until, job, document) VALUES (:number, :id, :version, :state,"
          " :revision, :title, :customer, :vehicle, :created, :sent, :until, :job, :document)",
      use(number), use(quote.id), use(quote.version), use(state), use(revision), use(quote.title),
      use(quote.customer), use(quote.vehicle), use(quote.created), use(quote.sent),
      use(quote.valid_until), use(quote.job), use(document);
  return quote;
}

Result<void> SqlQuotes::update(const shop::Quote& quote) {
  const std::string state(name_of(quote.state));
  const std::string document = document_of(quote);
  const long long revision = quote.revision;
  const long long before = quote.revision - 1;
  soci::statement statement =
      (sql_.prepare << "UPDATE quotes SET state = :state, revision = :revision, title = :title,"
                       " customer = :customer, vehicle = :vehicle, sent = :sent,"
                       " valid_until = :until, job = :job, document = :document"
                       " WHERE id = :id AND version = :version AND revision = :before",
       use(state), use(revision), use(quote.title), use(quote.customer), use(quote.vehicle),
       use(quote.sent), use(quote.valid_until), use(quote.job), use(document), use(quote.id),
       use(quote.version), use(before));
  statement.execute(true);
  if (statement.get_affected_rows() == 1) return {};
  return fail(ErrorCode::conflict, "someone else changed the quote first", "quote " + quote.id,
              "Look at the quote as it is now, then decide again.");
}

template <class Value>
std::vector<shop::Worked> SqlQuotes::worked_where(const std::string& condition,
                                                  const Value& value) {
  shop::Worked worked;
  std::string task, amounts;
  long long entry = 0, minutes = 0, strikes = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT entry, job, task, piece, who, minutes, note, at, amounts, strikes"
                       " FROM worked WHERE " +
                           condition + " ORDER BY entry",
       into(entry), into(worked.job), into(task), into(worked.piece), into(worked.who),
       into(minutes), into(worked.note), into(worked.at), into(amounts), into(strikes), use(value));
  statement.execute();
  std::vector<shop::Worked> all;
  while (statement.fetch()) {
    worked.entry = entry;
    worked.task = parsed<shop::Task>(task);
    worked.minutes = minutes;
    worked.amounts = amounts_of(amounts);
    worked.strikes = strikes;
    all.push_back(worked);
  }
  return all;
}

std::vector<shop::Worked> SqlQuotes::worked(const std::string& job) {
  return worked_where("job = :value", job);
}

std::vector<shop::Worked> SqlQuotes::worked_after(std::int64_t entry) {
  const long long after = entry;
  return worked_where("entry > :value", after);
}

shop::Worked SqlQuotes::append(shop::Worked worked) {
  long long entry = 0;
  sql_ << "SELECT coalesce(max(entry), 0) + 1 FROM worked", into(entry);
  const std::string task(name_of(worked.task));
  const std::string amounts = text_of(worked.amounts);
  const long long minutes = worked.minutes;
  const long long strikes = worked.strikes;
  sql_ << "INSERT INTO worked (entry, job, task, piece, who, minutes, note, at, amounts, strikes)"
          " VALUES (:entry, :job, :task, :piece, :who, :minutes, :note, :at, :amounts, :strikes)",
      use(entry), use(worked.job), use(task), use(worked.piece), use(worked.who), use(minutes),
      use(worked.note), use(worked.at), use(amounts), use(strikes);
  worked.entry = entry;
  return worked;
}

}  // namespace film::store::detail
