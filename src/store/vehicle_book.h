#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
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

/// Vehicle models and their versions: a part of Book (store/book.h).
class VehicleBook {
 public:
  virtual ~VehicleBook() = default;

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
};

}  // namespace film::store
