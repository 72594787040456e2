#include "server/models.h"

#include "workbench/vehicle_scene.h"

namespace film::server {

Result<std::shared_ptr<const std::string>> Models::glb(const workbench::Workbench& workbench,
                                                       const std::string& id) {
  const auto vehicle = workbench.vehicle(id);
  if (!vehicle) return Failure(vehicle.error());
  // Held while the file is made, so that two who ask at once do not make it twice.
  const std::lock_guard lock(mutex_);
  auto& known = made_[{id, (*vehicle)->version}];
  if (!known) {
    auto bytes = workbench::vehicle_glb(**vehicle);
    if (!bytes) return Failure(bytes.error());
    known = std::make_shared<const std::string>(std::move(*bytes));
  }
  return known;
}

}  // namespace film::server
