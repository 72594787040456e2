// No acknowledged change is lost and none is kept by half, whatever dies.

#include <atomic>
#include <chrono>
#include <csignal>
#include <map>
#include <thread>

#include <sys/wait.h>
#include <unistd.h>

#include "base/rng.h"
#include "base/text.h"
#include "evidence_shop_book/parts.h"
#include "figure.h"

namespace film::bench {

Scratch::Scratch() {
  std::string name = (std::filesystem::temp_directory_path() / "film-evidence-XXXXXX").string();
  if (mkdtemp(name.data()) != nullptr) folder_ = name;
}
Scratch::~Scratch() {
  std::error_code none;
  if (!folder_.empty()) std::filesystem::remove_all(folder_, none);
}

void prepare(store::Store& store) {
  (void)store.change([](store::Book& book) -> Result<void> {
    shop::Film film;
    film.id = "clear";
    film.name = "Example clear";
    book.put(film);
    shop::VehicleModel vehicle;
    vehicle.id = "wagon";
    vehicle.name = "Example wagon";
    if (auto added = book.add(vehicle); !added) return added;
    shop::Job job;
    job.title = "0";
    job.vehicle = "wagon";
    job.scope = {{"hood", "clear"}};
    job.created = "2031-05-04T10:00:00Z";
    book.add(std::move(job));
    return {};
  });
}

void write_change(store::Book& book, int number) {
  const std::string text = format("{}", number);
  auto job = book.job("J-0001");
  job->title = text;
  ++job->revision;
  if (auto done = book.update(*job); !done) throw std::runtime_error(done.error().message());
  book.append("J-0001", shop::HistoryEntry{"t", "writer", "changed", text});
  book.append("J-0001",
              shop::GlassReading{"hood", shop::Stage::before, 0.7, 0.02, text, "writer", "t"});
}

std::string flaw_of(store::Store& store, int told) {
  if (auto whole = store.check_integrity(); !whole) return whole.error().message();
  const auto flaw = store.look([told](store::Book& book) -> std::string {
    const auto job = book.job("J-0001");
    const auto history = book.history("J-0001");
    const auto readings = book.readings("J-0001");
    if (!job) return "the job is gone";
    if (history.size() != readings.size()) return "half a change";
    if (job->revision != static_cast<std::int64_t>(history.size()) + 1) return "a revision is off";
    for (std::size_t i = 0; i < history.size(); ++i) {
      if (history[i].detail != readings[i].meter) return "changes are mixed";
    }
    const int last = history.empty() ? 0 : std::stoi(history.back().detail);
    if (job->title != format("{}", last)) return "half a change";
    if (last < told) return format("change {} was told and is gone", told);
    return "";
  });
  return flaw ? *flaw : flaw.error().message();
}

void kill_writers(int times) {
  const Scratch scratch;
  const auto file = scratch.folder() / "book.db";
  { prepare(*store::open_sqlite(file).value()); }
  Rng rng(20310504);
  int next = 1;
  int told = 0;
  int flaws = 0;
  std::string first_flaw;
  for (int round = 0; round < times; ++round) {
    int ends[2];
    if (pipe(ends) != 0) return;
    const pid_t child = fork();
    if (child == 0) {
      const auto store = store::open_sqlite(file);
      for (int number = next; store; ++number) {
        const auto done =
            (*store)->change([number](store::Book& book) { write_change(book, number); });
        if (!done || write(ends[1], &number, sizeof number) != sizeof number) break;
      }
      _exit(1);
    }
    close(ends[1]);
    // Now and then before the first change, even while the book is being opened.
    usleep(static_cast<useconds_t>(rng.below(60000)));
    kill(child, SIGKILL);
    waitpid(child, nullptr, 0);
    for (int number = 0; read(ends[0], &number, sizeof number) == sizeof number;) told = number;
    close(ends[0]);
    const auto store = store::open_sqlite(file);
    const std::string flaw = store ? flaw_of(**store, told) : store.error().message();
    if (!flaw.empty() && ++flaws == 1) first_flaw = flaw;
    if (store) {
      next = (*store)
                 ->look([](store::Book& book) {
                   return static_cast<int>(book.history("J-0001").size());
                 })
                 .value() +
             1;
    }
  }
  say(format("SQLite, writer killed by SIGKILL at {} random moments: lost or half-kept changes",
             times),
      format("{} in {} changes{}", flaws, next - 1, flaws == 0 ? "" : ": " + first_flaw), "0",
      "integrity check, and each of three records of every change looked for after each kill",
      flaws == 0);
}

void cut_connections(int times) {
  test::PostgresCluster cluster({});  // with all the waits that keep data
  const std::string database = cluster.database();
  const auto store = store::open_postgres(cluster.address(database) + "#north");
  if (!store) {
    say("PostgreSQL, connections cut", store.error().message(), "0 lost", "", false);
    return;
  }
  prepare(**store);
  std::atomic<bool> ended{false};
  std::atomic<int> told{0};
  std::atomic<int> refused{0};
  std::thread writer([&] {
    int number = 1;
    while (!ended) {
      const auto done =
          (*store)->change([number](store::Book& book) { write_change(book, number); });
      if (done) {
        told = number++;
        continue;
      }
      ++refused;
      // Whether the last one is there is looked at, as the error says.
      const auto kept = (*store)->look([](store::Book& book) {
        const auto history = book.history("J-0001");
        return history.empty() ? 0 : std::stoi(history.back().detail);
      });
      if (kept) number = *kept + 1;
    }
  });
  Rng rng(20310505);
  int flaws = 0;
  std::string first_flaw;
  for (int round = 0; round < times; ++round) {
    std::this_thread::sleep_for(std::chrono::microseconds(rng.below(20000)));
    (void)cluster.meddle(
        database,
        "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE pid <> pg_backend_pid() AND"
        " datname = current_database()");
  }
  ended = true;
  writer.join();
  const auto again = store::open_postgres(cluster.address(database) + "#north");
  const std::string flaw = again ? flaw_of(**again, told) : again.error().message();
  if (!flaw.empty() && ++flaws == 1) first_flaw = flaw;
  say(format("PostgreSQL, connections cut at {} random moments: lost or half-kept changes", times),
      format("{} in {} changes; {} were refused and looked at{}", flaws, told.load(),
             refused.load(), flaws == 0 ? "" : ": " + first_flaw),
      "0", "pg_terminate_backend on every connection under write load", flaws == 0);
}

}  // namespace film::bench
