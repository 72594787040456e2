#include "workbench/csv_tables.h"

#include <algorithm>
#include <charconv>
#include <map>
#include <set>

#include "base/text.h"
#include "formats/csv.h"
#include "shop/names.h"
#include "store/store.h"

namespace film::workbench {
namespace {

using Rows = std::vector<std::vector<std::string>>;

constexpr std::size_t kEverything = std::size_t{1} << 40;

const std::vector<std::string> kRollColumns{"id",        "film",         "lot",      "width_mm",
                                            "length_mm", "remaining_mm", "received", "place"};
const std::vector<std::string> kPieceColumns{"number", "event",    "job",    "panel", "piece",
                                             "film",   "lot",      "source", "run",   "who",
                                             "at",     "replaces", "reason"};

std::string number(double value) { return format("{}", value); }

// A row a vehicle; a customer without one has a row with empty cells for it.
const std::vector<std::string> kCustomerColumns{"id",         "name",     "phone", "email",
                                                "address",    "language", "plate", "vin",
                                                "vin_reason", "model",    "note"};

Rows customers_out(store::Book& book) {
  Rows rows{kCustomerColumns};
  for (const shop::Customer& c : book.customers("", kEverything)) {
    const std::vector<std::string> who{c.id, c.name, c.phone, c.email, c.address, c.language};
    auto vehicles = book.vehicles_of(c.id);
    if (vehicles.empty()) vehicles.emplace_back();
    for (const shop::CustomerVehicle& v : vehicles) {
      rows.push_back(who);
      for (const std::string* cell : {&v.plate, &v.vin, &v.vin_reason, &v.model, &v.note}) {
        rows.back().push_back(*cell);
      }
    }
  }
  return rows;
}

Rows films_out(store::Book& book) {
  Rows rows{{"id", "name", "use", "gloss", "colour", "thickness_um", "grain", "term_months"}};
  for (const shop::Film& film : book.films()) {
    const auto term = book.film_term(film.id);
    rows.push_back({film.id, film.name, std::string(shop::name_of(film.use)),
                    std::string(shop::name_of(film.gloss)), film.colour, number(film.thickness_um),
                    std::string(shop::name_of(film.grain)), format("{}", term ? term->months : 0)});
  }
  return rows;
}

Rows rolls_out(store::Book& book) {
  Rows rows{kRollColumns};
  for (const shop::Roll& roll : book.rolls()) {
    rows.push_back({roll.id, roll.film, roll.lot, number(roll.width.value),
                    number(roll.length.value), number(roll.remaining.value), roll.received,
                    roll.place});
  }
  return rows;
}

Rows jobs_out(store::Book& book) {
  Rows rows{
      {"id", "title", "customer", "vehicle", "vehicle_version", "state", "panels", "created"}};
  for (const shop::Job& job : book.jobs()) {
    rows.push_back({job.id, job.title, job.customer, job.vehicle, format("{}", job.vehicle_version),
                    std::string(shop::name_of(job.state)), format("{}", job.scope.size()),
                    job.created});
  }
  return rows;
}

Rows pieces_out(store::Book& book) {
  Rows rows{kPieceColumns};
  for (const shop::Job& job : book.jobs()) {
    for (const shop::InstalledPiece& p : book.installed_of_job(job.id)) {
      rows.push_back({format("{}", p.number), p.event, p.job, p.panel, p.piece, p.film, p.lot,
                      p.source, p.run, p.who, p.at, format("{}", p.replaces), p.reason});
    }
  }
  return rows;
}

/// The cells of a file by the names of their columns.
class Table {
 public:
  static Result<Table> read(std::string_view bytes, const std::vector<std::string>& columns) {
    auto rows = formats::read_csv(bytes);
    if (!rows) return Failure(rows.error());
    Table table;
    if (rows->empty()) {
      return fail(ErrorCode::invalid_input, "the file holds nothing", "line 1",
                  "Begin it with the names of the columns.");
    }
    for (const std::string& name : columns) {
      const auto& head = rows->front().cells;
      const auto found = std::find(head.begin(), head.end(), name);
      if (found == head.end()) {
        return fail(ErrorCode::invalid_input, format("the column '{}' is missing", name), "line 1",
                    "Write the names of the columns as an export has them.");
      }
      table.places_[name] = static_cast<std::size_t>(found - head.begin());
    }
    rows->erase(rows->begin());
    table.rows_ = std::move(*rows);
    return table;
  }

  [[nodiscard]] std::size_t size() const { return rows_.size(); }
  [[nodiscard]] const std::string& cell(std::size_t row, const std::string& column) const {
    return rows_[row].cells[places_.at(column)];
  }
  [[nodiscard]] std::string where(std::size_t row, const std::string& column) const {
    return format("line {}, column {}", rows_[row].line, column);
  }
  /// The error of a record with the line it came from.
  [[nodiscard]] Failure at(std::size_t row, Error error) const {
    error.where = format("line {}, {}", rows_[row].line, error.where);
    return Failure(std::move(error));
  }
  template <class Number>
  Result<Number> number(std::size_t row, const std::string& column) const {
    const std::string& text = cell(row, column);
    Number value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error == std::errc() && end == text.data() + text.size()) return value;
    return fail(ErrorCode::invalid_input, format("'{}' is no number", text), where(row, column),
                "Write it with a point, without thousands separators.");
  }

 private:
  std::map<std::string, std::size_t> places_;
  std::vector<formats::CsvRow> rows_;
};

Result<shop::Roll> roll_of(const Table& table, std::size_t row) {
  shop::Roll roll;
  roll.id = table.cell(row, "id");
  roll.film = table.cell(row, "film");
  roll.lot = table.cell(row, "lot");
  roll.received = table.cell(row, "received");
  roll.place = table.cell(row, "place");
  for (const auto& [column, value] : {std::pair{"width_mm", &roll.width},
                                      {"length_mm", &roll.length},
                                      {"remaining_mm", &roll.remaining}}) {
    const auto length = table.number<double>(row, column);
    if (!length) return Failure(length.error());
    *value = Mm{*length};
  }
  if (auto sound = shop::check(roll); !sound) return table.at(row, sound.error());
  return roll;
}

Result<Imported> rolls_in(Workbench& workbench, const Table& table, const std::string& who) {
  return workbench.store().change([&](store::Book& book) -> Result<Imported> {
    std::vector<shop::Roll> rolls;
    std::set<std::string> ids;
    for (std::size_t row = 0; row < table.size(); ++row) {
      auto roll = roll_of(table, row);
      if (!roll) return Failure(roll.error());
      if (!book.film(roll->film)) {
        return fail(ErrorCode::not_found, format("there is no film '{}'", roll->film),
                    table.where(row, "film"), "Bring the film in first.");
      }
      if (!ids.insert(roll->id).second || book.roll(roll->id)) {
        return fail(ErrorCode::conflict, format("roll {} is there already", roll->id),
                    table.where(row, "id"), "Leave it out, or give it another id.");
      }
      rolls.push_back(std::move(*roll));
    }
    const std::string at = now();
    for (const shop::Roll& roll : rolls) {
      if (auto received = book.receive(roll, who, at); !received) return Failure(received.error());
    }
    return Imported{rolls.size()};
  });
}

shop::Customer customer_of(const Table& table, std::size_t row) {
  shop::Customer customer;
  customer.name = table.cell(row, "name");
  customer.phone = table.cell(row, "phone");
  customer.email = table.cell(row, "email");
  customer.address = table.cell(row, "address");
  customer.language = table.cell(row, "language");
  return customer;
}

Result<std::optional<shop::CustomerVehicle>> vehicle_of(const Table& table, std::size_t row) {
  shop::CustomerVehicle vehicle;
  vehicle.plate = table.cell(row, "plate");
  vehicle.vin = table.cell(row, "vin");
  vehicle.vin_reason = table.cell(row, "vin_reason");
  vehicle.model = table.cell(row, "model");
  vehicle.note = table.cell(row, "note");
  if (vehicle == shop::CustomerVehicle{}) return std::optional<shop::CustomerVehicle>();
  auto sound = shop::checked(std::move(vehicle));
  if (!sound) return table.at(row, sound.error());
  return std::optional(std::move(*sound));
}

/// A customer of the file with the vehicles of the rows that have the same id.
struct ComingCustomer {
  std::string id;  ///< in the file
  shop::Customer customer;
  std::vector<shop::CustomerVehicle> vehicles;
};

/// Rows of one id are one customer; a row without an id is a customer of its own.
Result<std::vector<ComingCustomer>> customers_of(const Table& table) {
  std::vector<ComingCustomer> coming;
  std::map<std::string, std::size_t> by_id;
  for (std::size_t row = 0; row < table.size(); ++row) {
    shop::Customer customer = customer_of(table, row);
    if (auto sound = shop::check(customer); !sound) return table.at(row, sound.error());
    auto vehicle = vehicle_of(table, row);
    if (!vehicle) return Failure(vehicle.error());
    const std::string& id = table.cell(row, "id");
    const auto known = id.empty() ? by_id.end() : by_id.find(id);
    std::size_t index = coming.size();
    if (known == by_id.end()) {
      coming.push_back({id, customer, {}});
      if (!id.empty()) by_id[id] = index;
    } else {
      index = known->second;
      if (coming[index].customer != customer) {
        return fail(ErrorCode::invalid_input, "another customer has this id in an earlier row",
                    table.where(row, "id"), "Repeat the customer's cells, or give another id.");
      }
    }
    if (*vehicle) coming[index].vehicles.push_back(std::move(**vehicle));
  }
  return coming;
}

/// The book gives every customer a number of its own; who is there already by name, phone and
/// e-mail is refused, lest a file that is brought in twice doubles everybody.
Result<Imported> customers_in(Workbench& workbench, const Table& table, const std::string&) {
  auto coming = customers_of(table);
  if (!coming) return Failure(coming.error());
  return workbench.store().change([&](store::Book& book) -> Result<Imported> {
    std::set<std::string> there;
    const auto key = [](const shop::Customer& c) {
      return c.name + "\n" + c.phone + "\n" + c.email;
    };
    for (const shop::Customer& c : book.customers("", kEverything)) there.insert(key(c));
    const std::string at = now();
    for (ComingCustomer& each : *coming) {
      if (there.count(key(each.customer)) != 0) {
        return fail(
            ErrorCode::conflict,
            format("{} is a customer already, with this phone and e-mail", each.customer.name),
            "customer " + each.id, "Leave the row out.");
      }
      each.customer.created = at;
      const shop::Customer added = book.add(each.customer);
      for (shop::CustomerVehicle& vehicle : each.vehicles) {
        vehicle.customer = added.id;
        vehicle.created = at;
        if (!vehicle.model.empty() && book.versions(vehicle.model).empty()) {
          return fail(ErrorCode::not_found, format("there is no vehicle model '{}'", vehicle.model),
                      "customer " + each.customer.name,
                      "Leave the cell empty, or use a model's id.");
        }
        book.add(vehicle);
      }
    }
    return Imported{table.size()};
  });
}

Result<shop::InstalledPiece> piece_of(const Table& table, std::size_t row) {
  shop::InstalledPiece piece;
  piece.event = table.cell(row, "event");
  piece.job = table.cell(row, "job");
  piece.panel = table.cell(row, "panel");
  piece.piece = table.cell(row, "piece");
  piece.film = table.cell(row, "film");
  piece.lot = table.cell(row, "lot");
  piece.source = table.cell(row, "source");
  piece.run = table.cell(row, "run");
  piece.who = table.cell(row, "who");
  piece.at = table.cell(row, "at");
  piece.reason = table.cell(row, "reason");
  const auto replaces = table.number<std::int64_t>(row, "replaces");
  if (!replaces) return Failure(replaces.error());
  piece.replaces = *replaces;
  if (auto sound = shop::check(piece); !sound) return table.at(row, sound.error());
  return piece;
}

/// Pieces of before this program was used. `number` is given anew; `replaces` is of this book.
Result<Imported> pieces_in(Workbench& workbench, const Table& table, const std::string& who) {
  return workbench.store().change([&](store::Book& book) -> Result<Imported> {
    std::vector<shop::InstalledPiece> pieces;
    for (std::size_t row = 0; row < table.size(); ++row) {
      auto piece = piece_of(table, row);
      if (!piece) return Failure(piece.error());
      if (!book.job(piece->job)) {
        return fail(ErrorCode::not_found, format("there is no job '{}'", piece->job),
                    table.where(row, "job"), "Open the job first.");
      }
      if (!book.film(piece->film)) {
        return fail(ErrorCode::not_found, format("there is no film '{}'", piece->film),
                    table.where(row, "film"), "Bring the film in first.");
      }
      pieces.push_back(std::move(*piece));
    }
    std::map<std::string, std::size_t> count;
    for (std::size_t row = 0; row < pieces.size(); ++row) {
      if (auto added = book.add(pieces[row]); !added) return table.at(row, added.error());
      ++count[pieces[row].job];
    }
    for (const auto& [job, each] : count) {
      book.append(job, {now(), who, "pieces brought in", format("{}", each)});
    }
    return Imported{pieces.size()};
  });
}

}  // namespace

const std::vector<std::string>& csv_tables() {
  static const std::vector<std::string> kTables{"customers", "films", "rolls", "jobs", "pieces"};
  return kTables;
}

Result<std::string> export_csv(Workbench& workbench, const std::string& table) {
  const std::map<std::string, Rows (*)(store::Book&)> kOut{{"customers", customers_out},
                                                           {"films", films_out},
                                                           {"rolls", rolls_out},
                                                           {"jobs", jobs_out},
                                                           {"pieces", pieces_out}};
  const auto out = kOut.find(table);
  if (out == kOut.end()) {
    return fail(ErrorCode::not_found, "there is no such table", table,
                "Ask for customers, films, rolls, jobs or pieces.");
  }
  const auto rows = workbench.store().look([&](store::Book& book) { return out->second(book); });
  if (!rows) return Failure(rows.error());
  return formats::write_csv(*rows);
}

Result<Imported> import_csv(Workbench& workbench, const std::string& table, std::string_view bytes,
                            const std::string& who) {
  struct Way {
    std::vector<std::string> columns;
    Result<Imported> (*in)(Workbench&, const Table&, const std::string& who);
  };
  // The number of a piece is given by the book.
  const std::map<std::string, Way> ways{
      {"customers", {kCustomerColumns, customers_in}},
      {"rolls", {kRollColumns, rolls_in}},
      {"pieces", {{kPieceColumns.begin() + 1, kPieceColumns.end()}, pieces_in}}};
  const auto way = ways.find(table);
  if (way == ways.end()) {
    return fail(ErrorCode::unsupported, "this table is not brought in as CSV", table,
                "Bring in customers, rolls or pieces.");
  }
  const auto read = Table::read(bytes, way->second.columns);
  if (!read) return Failure(read.error());
  return way->second.in(workbench, *read, who);
}

}  // namespace film::workbench
