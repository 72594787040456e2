#include "workbench/search.h"

#include <charconv>
#include <initializer_list>
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

/// Texts that are not empty, with commas between.
std::string listed(std::initializer_list<std::string_view> texts) {
  std::string all;
  for (const std::string_view text : texts) {
    if (text.empty()) continue;
    if (!all.empty()) all += ", ";
    all += text;
  }
  return all;
}

Found job_found(const shop::Job& job) {
  return {FoundKind::job,           job.id, job.id, job.title, listed({job.customer, job.vehicle}),
          job.created.substr(0, 10)};
}

std::string newest(const std::vector<std::string>& jobs) {
  return jobs.empty() ? "" : jobs.front();
}

Found customer_found(store::Book& book, const shop::Customer& customer) {
  return {FoundKind::customer,
          customer.id,
          newest(book.jobs_of_customer(customer.id)),
          customer.name,
          listed({customer.phone, customer.email}),
          customer.created.substr(0, 10)};
}

Found vehicle_found(store::Book& book, const shop::CustomerVehicle& vehicle) {
  const auto owner = book.customer(vehicle.customer);
  return {
      FoundKind::vehicle,
      vehicle.id,
      newest(book.jobs_of_vehicle(vehicle.id)),
      vehicle.plate.empty() ? vehicle.vin : vehicle.plate,
      listed({owner ? owner->name : "", vehicle.model, vehicle.plate.empty() ? "" : vehicle.vin}),
      vehicle.created.substr(0, 10)};
}

void find_people_and_vehicles(store::Book& book, const std::string& text, std::size_t most,
                              std::vector<Found>& found) {
  for (const auto& vehicle : book.vehicles_holding(text, most)) {
    found.push_back(vehicle_found(book, vehicle));
  }
  for (const auto& customer : book.customers_holding(text, most)) {
    found.push_back(customer_found(book, customer));
  }
}

std::string in_capitals(std::string text) {
  for (char& c : text) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return text;
}

void find_lots(store::Book& book, const std::string& text, std::size_t most,
               std::vector<Found>& found) {
  auto lots = book.lots_like(text, most);
  if (lots.empty()) lots = book.lots_like(in_capitals(text), most);
  for (const std::string& lot : lots) found.push_back({FoundKind::lot, lot, "", "", "", ""});
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
  const std::string id = in_capitals(text);
  if (const auto record = book.claim(id)) {
    const auto job = book.job(record->claim.job);
    found.push_back({FoundKind::claim, id, record->claim.job, job ? job->title : "",
                     record->claim.what, record->claim.at.substr(0, 10)});
  }
  if (const auto customer = book.customer(id)) found.push_back(customer_found(book, *customer));
  if (const auto vehicle = book.customer_vehicle(id)) {
    found.push_back(vehicle_found(book, *vehicle));
  }
  if (const auto versions = book.quote_versions(id); !versions.empty()) {
    const store::QuoteLine& line = versions.back();
    found.push_back({FoundKind::quote, id, line.job, line.title,
                     listed({line.customer, line.vehicle}), line.created.substr(0, 10)});
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
      const bool days = !order.from.empty() || !order.to.empty();
      if (!days) {
        find_numbers(book, order.text, found);
        find_people_and_vehicles(book, order.text, order.most, found);
        find_lots(book, order.text, order.most, found);
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
