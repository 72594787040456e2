// Ten years of a busy shop, and a chain of fifty.

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <functional>
#include <vector>

#include "base/rng.h"
#include "base/text.h"
#include "evidence_shop_book/parts.h"
#include "figure.h"

namespace film::bench {
namespace {

constexpr int kPiecesOfJob = 100;
constexpr int kJobsOfLot = 3;
constexpr double kMostMs = 50;
constexpr int kRuns = 200;

double now_ms() {
  return std::chrono::duration<double, std::milli>(
             std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

/// Jobs with their customers, vehicles, history and a hundred installed pieces each, a thousand
/// jobs a year; fifty jobs a change.
void fill(store::Store& store, int jobs) {
  (void)store.change([](store::Book& book) -> Result<void> {
    shop::Film film;
    film.id = "clear";
    film.name = "Example clear";
    book.put(film);
    if (book.versions("wagon").empty()) {
      shop::VehicleModel vehicle;
      vehicle.id = "wagon";
      vehicle.name = "Example wagon";
      if (auto added = book.add(vehicle); !added) return added;
    }
    return {};
  });
  for (int first = 1; first <= jobs; first += 50) {
    const auto done = store.change([&](store::Book& book) -> Result<void> {
      for (int j = first; j < first + 50 && j <= jobs; ++j) {
        const std::string at =
            format("20{:02}-{:02}-{:02}T10:00:00Z", 31 + j / 1000, 1 + j / 84 % 12, 1 + j / 3 % 28);
        shop::Customer customer;
        customer.name = format("Customer {:05}", j * 7919 % 99991);
        customer.created = at;
        customer = book.add(customer);
        shop::CustomerVehicle vehicle;
        vehicle.customer = customer.id;
        vehicle.model = "wagon";
        vehicle.plate = format("FW {:05}", j * 7907 % 99991);
        vehicle.created = at;
        vehicle = book.add(vehicle);
        shop::Job job;
        job.title = format("Whole car {}", j);
        job.customer = customer.name;
        job.vehicle = "wagon";
        for (int p = 0; p < 20; ++p) job.scope.push_back({format("panel-{:02}", p), "clear"});
        job.created = at;
        job = book.add(std::move(job));
        book.put(shop::JobCustomer{job.id, customer.id, vehicle.id});
        for (int h = 0; h < 8; ++h) {
          book.append(job.id, shop::HistoryEntry{at, "Ada", "step", format("{}", h)});
        }
        for (int p = 0; p < kPiecesOfJob; ++p) {
          shop::InstalledPiece piece;
          piece.event = format("{}-{}", job.id, p);
          piece.job = job.id;
          piece.panel = format("panel-{:02}", p % 20);
          piece.piece = format("piece-{:03}", p);
          piece.film = "clear";
          piece.lot = format("LOT {:05}", j / kJobsOfLot);
          piece.source = format("R-{:04}", j / kJobsOfLot);
          piece.who = "Ada";
          piece.at = at;
          if (auto added = book.add(piece); !added) return Failure(added.error());
        }
      }
      return {};
    });
    if (!done) {
      say("filling the book", done.error().message(), "", "", false);
      std::exit(1);
    }
  }
}

/// The 95th of a hundred times of the query, in milliseconds, each run on another job.
double p95(store::Store& store, int jobs, const std::function<void(store::Book&, int)>& query) {
  Rng rng(7);
  std::vector<double> times;
  for (int i = 0; i < kRuns; ++i) {
    const int job = 1 + static_cast<int>(rng.below(static_cast<std::uint64_t>(jobs)));
    const double start = now_ms();
    (void)store.look([&](store::Book& book) { query(book, job); });
    times.push_back(now_ms() - start);
  }
  std::sort(times.begin(), times.end());
  return times[times.size() * 95 / 100];
}

void measure(store::Store& store, int jobs, const std::string& where) {
  struct Query {
    const char* name;
    std::function<void(store::Book&, int)> run;
  };
  const auto id = [](int j) { return format("J-{:04}", j); };
  const std::vector<Query> queries{
      {"a job", [&](store::Book& book, int j) { (void)book.job(id(j)); }},
      {"a job's history", [&](store::Book& book, int j) { (void)book.history(id(j)); }},
      {"a job's installed pieces",
       [&](store::Book& book, int j) { (void)book.installed_of_job(id(j)); }},
      {"a job's audit trail",
       [&](store::Book& book, int j) { (void)book.audit("job " + id(j), 100); }},
      {"the newest hundred jobs",
       [&](store::Book& book, int) {
         (void)book.jobs(store::JobQuery{"", {}, "", 100});
       }},
      {"a customer with vehicles and jobs",
       [&](store::Book& book, int j) {
         const std::string customer = format("K-{:04}", j);
         (void)book.customer(customer);
         (void)book.vehicles_of(customer);
         (void)book.jobs_of_customer(customer);
       }},
      {"customers by the begin of a name",
       [&](store::Book& book, int j) {
         (void)book.customers(format("Customer {:03}", j % 999), 100);
       }},
      {"customers by the begin of a plate",
       [&](store::Book& book, int j) { (void)book.customers(format("FW {:03}", j % 999), 100); }},
      {"lots by their begin",
       [&](store::Book& book, int j) { (void)book.lots_like(format("LOT {:03}", j / 300), 50); }},
      {"from a lot to its panels",
       [&](store::Book& book, int j) {
         (void)book.installed_of_lot(format("LOT {:05}", j / kJobsOfLot), 0, 1000);
       }},
  };
  double worst = 0;
  for (const Query& query : queries) {
    const double ms = p95(store, jobs, query.run);
    worst = std::max(worst, ms);
    say(format("{}: {}, p95", where, query.name), format("{:.2f} ms", ms), "< 50 ms",
        format("{} times, each for another job", kRuns), ms < kMostMs);
  }
}

}  // namespace

void ten_years(int jobs) {
  const Scratch scratch;
  const auto store = store::open_sqlite(scratch.folder() / "book.db").value();
  fill(*store, jobs);
  const std::string where =
      format("SQLite, {} jobs, {} installed pieces", jobs, jobs * kPiecesOfJob);
  measure(*store, jobs, where);
  const double start = now_ms();
  const auto done = store->back_up(scratch.folder() / "backup.db");
  const double seconds = (now_ms() - start) / 1000;
  say(where + ": backup while open",
      done
          ? format("{:.1f} s, {:.0f} MB", seconds,
                   static_cast<double>(std::filesystem::file_size(scratch.folder() / "backup.db")) /
                       1e6)
          : done.error().message(),
      "< 60 s", "", done && seconds < 60);
}

void chain(int shops, int jobs) {
  test::PostgresCluster cluster({"max_locks_per_transaction=256"});
  const std::string database = cluster.database();
  const int each = jobs / shops;
  std::unique_ptr<store::Store> one;
  for (int s = 0; s < shops; ++s) {
    auto store = store::open_postgres(format("{}#shop{:02}", cluster.address(database), s));
    if (!store) {
      say("the chain", store.error().message(), "", "", false);
      return;
    }
    fill(**store, each);
    if (s == shops / 2) one = std::move(*store);
  }
  (void)cluster.meddle(database, "ANALYZE");
  measure(*one, each,
          format("PostgreSQL, a shop of {}, together {} jobs, {} installed pieces", shops, jobs,
                 jobs * kPiecesOfJob));
  const Scratch scratch;
  const std::string file = (scratch.folder() / "chain.dump").string();
  const std::string command = format("{} --format=custom --file='{}' '{}'",
                                     (test::PostgresCluster::programs() / "pg_dump").string(), file,
                                     cluster.address(database));
  const double start = now_ms();
  const bool done = std::system(command.c_str()) == 0;
  const double seconds = (now_ms() - start) / 1000;
  say(format("PostgreSQL, chain of {} shops: backup while open", shops),
      done ? format("{:.1f} s, {:.0f} MB", seconds,
                    static_cast<double>(std::filesystem::file_size(file)) / 1e6)
           : "failed",
      "< 60 s", "pg_dump --format=custom", done && seconds < 60);
}

}  // namespace film::bench
