#pragma once

#include <stdexcept>

#include <soci/soci.h>

#include "store/book.h"

namespace film::store::detail {

/// A stored value that this program cannot have written.
class Damaged : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// The book over one SQLite connection, inside a transaction that the store began.
class SqliteBook final : public Book {
 public:
  explicit SqliteBook(soci::session& sql) : sql_(sql) {}

  std::optional<shop::Settings> settings() override;
  void put(const shop::Settings& settings) override;

  std::vector<shop::Film> films() override;
  std::optional<shop::Film> film(const std::string& id) override;
  void put(const shop::Film& film) override;

  std::vector<shop::Roll> rolls() override;
  std::optional<shop::Roll> roll(const std::string& id) override;
  void put(const shop::Roll& roll) override;

  std::vector<shop::KnifeProfile> profiles() override;
  std::optional<shop::KnifeProfile> profile(const std::string& id) override;
  void put(const shop::KnifeProfile& profile) override;

  std::vector<VehicleLine> vehicles() override;
  std::optional<shop::VehicleModel> vehicle(const std::string& id, int version) override;
  using Book::add;
  Result<void> add(const shop::VehicleModel& vehicle, shop::Standing standing) override;
  std::vector<VersionLine> versions(const std::string& vehicle) override;
  Result<void> set_standing(const std::string& vehicle, int version,
                            shop::Standing standing) override;

  std::vector<shop::Job> jobs() override;
  std::optional<shop::Job> job(const std::string& id) override;
  shop::Job add(shop::Job job) override;
  Result<void> update(const shop::Job& job) override;

  std::vector<shop::KeptLayout> layouts(const std::string& job) override;
  void put(const shop::KeptLayout& layout) override;
  std::vector<shop::KeptCut> cuts(const std::string& job) override;
  void put(const shop::KeptCut& cut) override;
  void drop_work(const std::string& job) override;

  std::vector<shop::CutRun> runs(const std::string& job) override;
  std::optional<shop::CutRun> run(const std::string& id) override;
  std::optional<shop::CutRun> open_run(const std::string& machine) override;
  Result<shop::CutRun> add(shop::CutRun run) override;
  void update(const shop::CutRun& run) override;
  std::vector<shop::CutMark> marks(const std::string& run) override;
  void append_mark(const std::string& run, const shop::CutMark& mark) override;

  std::vector<shop::HistoryEntry> history(const std::string& job) override;
  void append(const std::string& job, const shop::HistoryEntry& entry) override;

  std::optional<std::string> film_optics(const std::string& film) override;
  void put_film_optics(const std::string& film, std::string_view layer) override;
  std::string glass_place(const std::string& job) override;
  void put_glass_place(const std::string& job, const std::string& place) override;
  std::vector<shop::GlassReading> readings(const std::string& job) override;
  void append(const std::string& job, const shop::GlassReading& reading) override;
  std::vector<shop::Decision> decisions(const std::string& job) override;
  void append(const std::string& job, const shop::Decision& decision) override;

  Result<void> take_film(const std::string& roll, const std::string& job, Mm length,
                         const std::string& at) override;

  std::string put_blob(std::string_view bytes) override;
  Result<std::string> blob(const std::string& hash) override;

  std::optional<std::string> computed(const std::string& key) override;
  void put_computed(const std::string& key, std::string_view bytes) override;

 private:
  std::vector<shop::Film> films_where(const std::string& condition, const std::string& value);
  std::vector<shop::Roll> rolls_where(const std::string& condition, const std::string& value);
  std::vector<shop::KnifeProfile> profiles_where(const std::string& condition,
                                                 const std::string& value);
  std::vector<shop::Job> jobs_where(const std::string& condition, const std::string& value);
  std::vector<shop::CutRun> runs_where(const std::string& condition, const std::string& value);
  std::vector<shop::Finish> finishes_of(const std::string& film);
  void put_scope(const shop::Job& job);
  TriMesh surface(const std::string& hash);
  std::vector<shop::Panel> panels(const std::string& vehicle, int version);
  std::vector<shop::Scenery> scenery(const std::string& vehicle, int version);

  soci::session& sql_;
};

}  // namespace film::store::detail
