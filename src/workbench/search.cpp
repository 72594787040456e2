#include "workbench/search.h"

#include <charconv>
#include <optional>

#include "shop/day.h"
#include "store/store.h"

namespace film::workbench {
namespace {

/// The number of "P-17", in either case.
std::optional<std::int64_t> piece_number(const std::string& text) {
  if (text.size() < 3 || (text[0] != 'P' && text[0] != 'p') || text[1] != '-') return std::nullopt;
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data() + 2, text.data() + text.size(), number);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return number;
}

Found job_found(const shop::Job& job) {
  std::string detail = job.customer;
  if (!detail.empty()) detail += ", ";
  return {FoundKind::job,           job.id, job.id, job.title, detail + job.vehicle,
          job.created.substr(0, 10)};
}

void find_numbers(store::Book& book, const std::string& text, std::vector<Found>& found) {
  if (const auto number = piece_number(text)) {
    if (const auto piece = book.installed(*number)) {
      const auto job = book.job(piece->job);
      found.push_back({FoundKind::piece, shop::number_text(*piece), piece->job,
                       job ? job->title : piece->job, piece->panel + ", " + piece->lot,
                       piece->at.substr(0, 10)});
    }
  }
  if (const auto record = book.claim(text)) {
    const auto job = book.job(record->claim.job);
    found.push_back({FoundKind::claim, text, record->claim.job, job ? job->title : "",
                     record->claim.what, record->claim.at.substr(0, 10)});
  }
}

}  // namespace

Result<std::vector<Found>> search(Workbench& workbench, const SearchOrder& order) {
  if (order.text.empty() && order.from.empty() && order.to.empty()) {
    return fail(ErrorCode::invalid_input, "there is nothing to look for", "q",
                "Write a name, a job, a lot or a day.");
  }
  for (const std::string* day : {&order.from, &order.to}) {
    if (day->empty() || shop::is_day(*day)) continue;
    return fail(ErrorCode::invalid_input, "'" + *day + "' is not a day",
                day == &order.from ? "from" : "to", "Write it as 2031-05-04.");
  }
  return workbench.store().look([&](store::Book& book) {
    std::vector<Found> found;
    if (!order.text.empty()) {
      find_numbers(book, order.text, found);
      for (const std::string& lot : book.lots_like(order.text, order.most)) {
        found.push_back({FoundKind::lot, lot, "", "", "", ""});
      }
    }
    const std::string after = order.to.empty() ? "" : shop::day_after(order.to, 1);
    for (const std::string& id : book.jobs_like(order.text, order.from, after, order.most)) {
      if (const auto job = book.job(id)) found.push_back(job_found(*job));
    }
    if (found.size() > order.most) found.resize(order.most);
    return found;
  });
}

}  // namespace film::workbench
