// Ten years of a busy shop, and a chain of fifty.

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <functional>
#include <vector>

#include "base/rng.h"
#include "base/text.h"
#include "evidence_shop_book/parts.h"
#include "evidence_shop_book/served.h"
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

/// A quote for the job, and a claim on every twentieth.
void add_paper(store::Book& book, const shop::Job& job, int number) {
  shop::Quote quote;
  quote.title = job.title;
  quote.customer = job.customer;
  quote.vehicle = job.vehicle;
  quote.currency = "EUR";
  quote.created = job.created;
  shop::Alternative offer;
  offer.name = "As it is";
  offer.scope = job.scope;
  offer.work.laying = {400, 300, 520};
  offer.work.covered_area = 8'800'000;
  offer.price = shop::price_of(offer.work, shop::PriceList{}, {}).value();
  quote.offers = {std::move(offer)};
  book.add(std::move(quote));
  if (number % 20 != 0) return;
  shop::Claim claim;
  claim.job = job.id;
  claim.piece = std::int64_t{kPiecesOfJob} * (number - 1) + 1;
  claim.what = "an edge lifts";
  claim.reported_by = job.customer;
  claim.who = "Ada";
  claim.at = job.created;
  book.add(std::move(claim));
}

/// Jobs with their customers, vehicles, history and a hundred installed pieces each, a thousand
/// jobs a year; fifty jobs a change.
void fill(store::Store& store, int jobs) {
  (void)store.change([](store::Book& book) -> Result<void> {
    shop::Film film;
    film.id = "clear";
    film.name = "Example clear";
    book.put(film);
    shop::Settings settings;  // of a demo shop, which may be asked without a session
    settings.name = "Example shop";
    settings.demo = true;
    book.put(settings);
    shop::Person lead;  // whose session that then is
    lead.name = "The lead";
    lead.sign_in = "lead";
    lead.role = shop::Role::lead;
    lead.created = "2031-05-04T10:00:00Z";
    if (auto added = book.add(lead); !added) return Failure(added.error());
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
        if (j + 30 < jobs) job.state = shop::JobState::handed_over;
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
        add_paper(book, job, j);
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
      {"customers whose name holds a text",
       [&](store::Book& book, int j) {
         (void)book.customers_holding(format("omer {:04}", j), 50);
       }},
      {"vehicles whose plate holds a text",
       [&](store::Book& book, int j) { (void)book.vehicles_holding(format("w{:04}", j), 50); }},
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

/// What the pages of the ten-year shop ask the server for, over one connection on loopback.
void measure_pages(const std::filesystem::path& folder, int jobs, const std::string& where) {
  const Served served(folder, false);
  if (served.port() == 0) {
    say(where + ": pages", "the book could not be served", "", "", false);
    return;
  }
  const auto id = [](const char* letter, int j) { return format("{}-{:04}", letter, j); };
  struct Page {
    const char* name;
    std::function<std::string(int)> target;
  };
  const std::vector<Page> pages{
      {"a page of 200 jobs", [&](int j) { return "/jobs?before=" + id("J", j); }},
      {"jobs that hold a text", [](int j) { return format("/jobs?most=50&q=car%20{}", j); }},
      {"open jobs", [](int) { return std::string("/jobs?state=scoped"); }},
      {"a job", [&](int j) { return "/jobs/" + id("J", j); }},
      {"what happened to a job", [&](int j) { return "/jobs/" + id("J", j) + "/history"; }},
      {"what is on its vehicle", [&](int j) { return "/jobs/" + id("J", j) + "/installation"; }},
      {"a job's hours", [&](int j) { return "/jobs/" + id("J", j) + "/hours"; }},
      {"a job's invoices", [&](int j) { return "/jobs/" + id("J", j) + "/invoices"; }},
      {"customers", [](int j) { return format("/customers?start=Customer%20{:03}", j % 999); }},
      {"a customer", [&](int j) { return "/customers/" + id("K", j); }},
      {"find by name",
       [](int j) { return format("/search?q=customer%20{:05}", j * 7919 % 99991); }},
      {"find by plate", [](int j) { return format("/search?q=fw{:05}", j * 7907 % 99991); }},
      {"find by lot", [](int j) { return format("/search?q=LOT%20{:05}", j / kJobsOfLot); }},
      {"find by days",
       [](int j) { return format("/search?from=2031-{0:02}-01&to=2031-{0:02}-28", 1 + j % 12); }},
      {"from a lot to vehicles and panels",
       [](int j) { return format("/lots?lot=LOT%20{:05}", j / kJobsOfLot); }},
      {"claims", [](int) { return std::string("/claims"); }},
      {"a page of 200 quotes", [&](int j) { return "/quotes?before=" + id("Q", j); }},
      {"a quote", [&](int j) { return "/quotes/" + id("Q", j); }},
      {"film in stock and what to order", [](int) { return std::string("/stock"); }},
      {"a job's audit trail", [&](int j) { return "/audit?record=job%20" + id("J", j); }},
      {"the newest 500 lines of the audit trail", [](int) { return std::string("/audit"); }},
  };
  Tablet tablet(served.port());
  for (const Page& page : pages) {
    Rng rng(7);
    std::vector<double> times;
    int failed = 0;
    for (int i = 0; i < kRuns; ++i) {
      const int job = 1 + static_cast<int>(rng.below(static_cast<std::uint64_t>(jobs)));
      const std::string target = "/api/v1" + page.target(job);
      const double start = now_ms();
      failed += tablet.ask("GET", target, "") != 200;
      times.push_back(now_ms() - start);
    }
    std::sort(times.begin(), times.end());
    const double ms = times[times.size() * 95 / 100];
    say(format("{}: HTTP, {}, p95", where, page.name),
        failed == 0 ? format("{:.1f} ms", ms) : format("{} failed", failed), "< 50 ms",
        format("{} requests on loopback, each for another job", kRuns),
        failed == 0 && ms < kMostMs);
  }
}

/// Every table of one shop's schema into another's, as the server copies rows. Guards are off: the
/// rows passed them once.
std::string copy_shop(const test::PostgresCluster& cluster, const std::string& database,
                      const std::string& from, const std::string& to) {
  return cluster.meddle(
      database,
      format("SET session_replication_role TO replica; DO $$ DECLARE name text; BEGIN"
             " FOR name IN SELECT tablename FROM pg_tables WHERE schemaname = '{0}' AND tablename"
             " NOT IN ('migrations', 'author') LOOP"
             " EXECUTE format('INSERT INTO {1}.%I SELECT * FROM {0}.%I', name, name);"
             " END LOOP; END $$",
             from, to));
}

}  // namespace

void ten_years(int jobs) {
  const Scratch scratch;
  const std::string where =
      format("SQLite, {} jobs, {} installed pieces", jobs, jobs * kPiecesOfJob);
  {
    const auto store = store::open_sqlite(scratch.folder() / "book.db").value();
    fill(*store, jobs);
    measure(*store, jobs, where);
    const double start = now_ms();
    const auto done = store->back_up(scratch.folder() / "backup.db");
    const double seconds = (now_ms() - start) / 1000;
    const auto size = [&] {
      return static_cast<double>(std::filesystem::file_size(scratch.folder() / "backup.db")) / 1e6;
    };
    say(where + ": backup while open",
        done ? format("{:.1f} s, {:.0f} MB", seconds, size()) : done.error().message(), "< 60 s",
        "", done && seconds < 60);
  }
  measure_pages(scratch.folder(), jobs, where);
}

void chain(int shops, int jobs) {
  // How queries go does not depend on how surely a power cut is outlived.
  test::PostgresCluster cluster({"max_locks_per_transaction=512", "fsync=off"});
  const std::string database = cluster.database();
  const int each = jobs / shops;
  const auto place = [&](int s) { return format("{}#shop{:02}", cluster.address(database), s); };
  const auto fault = [](const std::string& what) { say("the chain", what, "", "", false); };
  const auto one = store::open_postgres(place(0));
  if (!one) return fault(one.error().message());
  fill(**one, each);
  for (int s = 1; s < shops; ++s) {
    if (const auto store = store::open_postgres(place(s)); !store) {
      return fault(store.error().message());
    }
    const std::string complaint =
        copy_shop(cluster, database, "shop_shop00", format("shop_shop{:02}", s));
    if (!complaint.empty()) return fault(complaint);
  }
  (void)cluster.meddle(database, "ANALYZE");
  const std::string where =
      format("PostgreSQL, a shop of {}, together {} jobs, {} installed pieces", shops, each * shops,
             each * shops * kPiecesOfJob);
  measure(**one, each, where);
  const Scratch scratch;
  const auto file = scratch.folder() / "shop.dump";
  double start = now_ms();
  const auto backed_up = (*one)->back_up(file);
  say(where + ": backup of the shop while open",
      backed_up ? format("{:.1f} s", (now_ms() - start) / 1000) : backed_up.error().message(),
      "< 60 s", "pg_dump of its schema and the shared one, run by the program",
      backed_up && now_ms() - start < 60'000);
  start = now_ms();
  const auto whole = (*one)->check_integrity();
  say(where + ": check of the shop's book",
      whole ? format("{:.1f} s", (now_ms() - start) / 1000) : whole.error().message(), "", "",
      whole.has_value());
  const std::string all = (scratch.folder() / "chain.dump").string();
  const std::string command = format("{} --format=custom --file='{}' '{}'",
                                     (test::PostgresCluster::programs() / "pg_dump").string(), all,
                                     cluster.address(database));
  start = now_ms();
  const bool done = std::system(command.c_str()) == 0;
  const double seconds = (now_ms() - start) / 1000;
  say(format("PostgreSQL, chain of {} shops: backup while open", shops),
      done ? format("{:.1f} s, {:.0f} MB", seconds,
                    static_cast<double>(std::filesystem::file_size(all)) / 1e6)
           : "failed",
      "< 60 s", "pg_dump --format=custom", done && seconds < 60);
}

}  // namespace film::bench
