#pragma once

#include <filesystem>
#include <memory>
#include <string>

#include "base/result.h"
#include "shop/vehicle.h"

namespace film::layout {
struct Problem;
}

namespace film::store {
class Store;
}

namespace film::workbench {

class StudyCache;
class FactsCache;
class OfferCache;

/// What every use case works on: the shop's book, what was computed from it, and the time. The use
/// cases are free functions, one file a verb. Thread-safe.
class Workbench {
 public:
  /// `folder` holds the shop's own files beside its book; empty: there are none.
  explicit Workbench(std::unique_ptr<store::Store> store, std::filesystem::path folder = {});
  ~Workbench();

  [[nodiscard]] store::Store& store() const { return *store_; }
  [[nodiscard]] const std::filesystem::path& folder() const { return folder_; }
  [[nodiscard]] StudyCache& studies() const { return *studies_; }
  [[nodiscard]] FactsCache& facts() const { return *facts_; }
  [[nodiscard]] OfferCache& offers() const { return *offers_; }

  /// The vehicle with its surfaces; version 0 asks for the newest. Errors: not_found, io.
  [[nodiscard]] Result<std::shared_ptr<const shop::VehicleModel>> vehicle(const std::string& id,
                                                                          int version = 0) const;

  /// The layout problem of that content hash, read once for the hand that edits its layout.
  /// Errors: not_found, invalid_input, io.
  [[nodiscard]] Result<std::shared_ptr<const layout::Problem>> problem(
      const std::string& hash) const;

 private:
  struct Vehicles;
  struct Problems;

  std::unique_ptr<store::Store> store_;
  std::filesystem::path folder_;
  std::unique_ptr<StudyCache> studies_;
  std::unique_ptr<FactsCache> facts_;
  std::unique_ptr<OfferCache> offers_;
  std::unique_ptr<Vehicles> vehicles_;
  std::unique_ptr<Problems> problems_;
};

/// Opens (or makes) the shop's book. `book` is the address of a database server (see
/// store::open_postgres) or a file; when it is empty, the folder's file `book.address` says it in
/// one line, and without that file the book is `book.db` in the folder. The folder is made when
/// missing. Errors: io, unsupported (see store::open_sqlite).
Result<std::unique_ptr<Workbench>> open_workbench(const std::filesystem::path& folder,
                                                  const std::string& book = {});

/// A workbench whose book lives only in memory, for one run of the command line and for tests.
Result<std::unique_ptr<Workbench>> workbench_in_memory();

/// Now, or so many seconds later, in UTC as RFC 3339: "2031-05-04T10:00:00Z". Such texts sort by
/// time.
std::string now(double seconds_later = 0);
/// A time in that form, so many seconds later.
std::string later(const std::string& time, double seconds);

}  // namespace film::workbench
