#pragma once

#include <filesystem>
#include <string>

#include "store/store.h"
#include "support/postgres_cluster.h"

// The parts of the evidence for the shop's book; each prints its rows (figure.h).

namespace film::bench {

/// A writer process on SQLite, killed `times` times at random moments.
void kill_writers(int times);
/// Writers on PostgreSQL whose connections are cut `times` times at random moments.
void cut_connections(int times);
/// `jobs` jobs with a hundred pieces each in one SQLite book: queries, pages over HTTP, backup.
void ten_years(int jobs);
/// The same number of jobs in `shops` shops of one PostgreSQL database: one is filled by the
/// program, its rows are copied into the others.
void chain(int shops, int jobs);
/// `tablets` clients at a served demo shop for so long.
void tablets(int count, double seconds);

/// A folder that goes with its owner.
class Scratch {
 public:
  Scratch();
  ~Scratch();
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  [[nodiscard]] const std::filesystem::path& folder() const { return folder_; }

 private:
  std::filesystem::path folder_;
};

/// What every writer of the kill tests does as one change: a job's title, its history and a
/// reading, all with the same number.
void write_change(store::Book& book, int number);
/// What a first open needs: a film, a vehicle, one job.
void prepare(store::Store& store);
/// Empty when the book holds whole changes only, and every one up to `told`; else what is wrong.
std::string flaw_of(store::Store& store, int told);

}  // namespace film::bench
