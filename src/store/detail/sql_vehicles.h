#pragma once

#include <soci/soci.h>

#include "geometry/trimesh.h"
#include "store/blob_book.h"
#include "store/detail/sql.h"
#include "store/vehicle_book.h"

namespace film::store::detail {

/// Vehicle models, in SQL.
class SqlVehicles : public virtual VehicleBook, public virtual BlobBook {
 public:
  explicit SqlVehicles(Sql& sql) : sql_(sql.session) {}

  using VehicleBook::add;
  std::vector<VehicleLine> vehicles() override;
  std::optional<shop::VehicleModel> vehicle(const std::string& id, int version) override;
  Result<void> add(const shop::VehicleModel& vehicle, shop::Standing standing) override;
  std::vector<VersionLine> versions(const std::string& vehicle) override;
  Result<void> set_standing(const std::string& vehicle, int version,
                            shop::Standing standing) override;

 private:
  TriMesh surface(const std::string& hash);
  std::vector<shop::Panel> panels(const std::string& vehicle, int version);
  std::vector<shop::Scenery> scenery(const std::string& vehicle, int version);

  soci::session& sql_;
};

}  // namespace film::store::detail
