#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "shop/cut_run.h"
#include "shop/decision.h"
#include "shop/film.h"
#include "shop/job.h"
#include "shop/kept_layout.h"
#include "shop/profile.h"
#include "shop/reading.h"
#include "shop/roll.h"
#include "shop/settings.h"
#include "shop/vehicle.h"

namespace film::store {

/// A kind of vehicle without its surfaces.
struct VehicleLine {
  std::string id;
  std::string name;
  int version = 1;
  std::size_t panels = 0;

  friend bool operator==(const VehicleLine&, const VehicleLine&) = default;
};

/// One version of a vehicle, without its surfaces.
struct VersionLine {
  int version = 1;
  int based_on = 0;
  std::string name;
  std::string author;
  std::string note;
  std::string made;
  shop::Standing standing = shop::Standing::accepted;
  std::size_t panels = 0;
  std::size_t jobs = 0;  ///< that use it

  friend bool operator==(const VersionLine&, const VersionLine&) = default;
};

/// The shop's records as they stand inside one transaction (store/store.h makes them). Readers
/// return values, never views into the store. When the database itself fails, the transaction
/// ends and Store::look or Store::change returns the error; callers need not expect it here.
class Book {
 public:
  virtual ~Book() = default;

  virtual std::optional<shop::Settings> settings() = 0;  ///< none in a new book
  virtual void put(const shop::Settings& settings) = 0;

  virtual std::vector<shop::Film> films() = 0;  ///< by name
  virtual std::optional<shop::Film> film(const std::string& id) = 0;
  virtual void put(const shop::Film& film) = 0;

  virtual std::vector<shop::Roll> rolls() = 0;  ///< by film, day received, id
  virtual std::optional<shop::Roll> roll(const std::string& id) = 0;
  virtual void put(const shop::Roll& roll) = 0;

  virtual std::vector<shop::KnifeProfile> profiles() = 0;  ///< by name
  virtual std::optional<shop::KnifeProfile> profile(const std::string& id) = 0;
  virtual void put(const shop::KnifeProfile& profile) = 0;

  virtual std::vector<VehicleLine> vehicles() = 0;  ///< newest accepted versions, by name
  /// With its surfaces; version 0 asks for the newest accepted one. None for a removed version.
  virtual std::optional<shop::VehicleModel> vehicle(const std::string& id, int version) = 0;
  /// Versions are kept: errors with conflict when this one is there already.
  virtual Result<void> add(const shop::VehicleModel& vehicle, shop::Standing standing) = 0;
  Result<void> add(const shop::VehicleModel& vehicle) {
    return add(vehicle, shop::Standing::accepted);
  }
  virtual std::vector<VersionLine> versions(const std::string& vehicle) = 0;  ///< oldest first
  /// Errors: not_found; conflict, when the version may not change so (shop::standings_after) or is
  /// to be removed while a job uses it. A removed version keeps its line, not its panels.
  virtual Result<void> set_standing(const std::string& vehicle, int version,
                                    shop::Standing standing) = 0;

  virtual std::vector<shop::Job> jobs() = 0;  ///< newest first
  virtual std::optional<shop::Job> job(const std::string& id) = 0;
  /// Gives the job its id ("J-0001") and returns it.
  virtual shop::Job add(shop::Job job) = 0;
  /// Replaces state, title, customer, scope and vehicle version. `job.revision` is the new one;
  /// errors with conflict when the stored revision is not the one before it.
  virtual Result<void> update(const shop::Job& job) = 0;

  virtual std::vector<shop::KeptLayout> layouts(const std::string& job) = 0;  ///< by film
  /// Replaces the film's layout; its cut goes with the old one.
  virtual void put(const shop::KeptLayout& layout) = 0;
  virtual std::vector<shop::KeptCut> cuts(const std::string& job) = 0;  ///< by film
  virtual void put(const shop::KeptCut& cut) = 0;
  /// Forgets layouts and cuts of the job; what was recorded in its history stays.
  virtual void drop_work(const std::string& job) = 0;

  virtual std::vector<shop::CutRun> runs(const std::string& job) = 0;  ///< newest first
  virtual std::optional<shop::CutRun> run(const std::string& id) = 0;
  /// The machine's run that is not over.
  virtual std::optional<shop::CutRun> open_run(const std::string& machine) = 0;
  /// Gives the run its id ("C-0001"). Errors: conflict (the machine, or this film of the job, has
  /// another that is not over).
  virtual Result<shop::CutRun> add(shop::CutRun run) = 0;
  virtual void update(const shop::CutRun& run) = 0;                      ///< `used` and `over`
  virtual std::vector<shop::CutMark> marks(const std::string& run) = 0;  ///< oldest first
  virtual void append_mark(const std::string& run, const shop::CutMark& mark) = 0;

  virtual std::vector<shop::HistoryEntry> history(const std::string& job) = 0;  ///< oldest first
  virtual void append(const std::string& job, const shop::HistoryEntry& entry) = 0;

  /// What the film does to light: a layer of docs/formats/glass.md; none when nobody knows.
  virtual std::optional<std::string> film_optics(const std::string& film) = 0;
  virtual void put_film_optics(const std::string& film, std::string_view layer) = 0;

  /// The place whose law the job's windows are held against; empty when none was chosen.
  virtual std::string glass_place(const std::string& job) = 0;
  virtual void put_glass_place(const std::string& job, const std::string& place) = 0;
  virtual std::vector<shop::GlassReading> readings(const std::string& job) = 0;  ///< oldest first
  virtual void append(const std::string& job, const shop::GlassReading& reading) = 0;
  virtual std::vector<shop::Decision> decisions(const std::string& job) = 0;  ///< oldest first
  virtual void append(const std::string& job, const shop::Decision& decision) = 0;

  /// Books film out of the roll, with a line in the stock ledger. Errors: not_found, conflict
  /// (more than remains).
  virtual Result<void> take_film(const std::string& roll, const std::string& job, Mm length,
                                 const std::string& at) = 0;

  /// Keeps bytes under their content hash and returns it; the same bytes are kept once.
  virtual std::string put_blob(std::string_view bytes) = 0;
  /// Errors: not_found; io when the bytes no longer have their hash.
  virtual Result<std::string> blob(const std::string& hash) = 0;

  /// What was computed once for the inputs named by `key` (a content hash).
  virtual std::optional<std::string> computed(const std::string& key) = 0;
  virtual void put_computed(const std::string& key, std::string_view bytes) = 0;
};

}  // namespace film::store
