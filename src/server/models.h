#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <string>

#include "base/result.h"
#include "workbench/workbench.h"

namespace film::server {

/// Vehicles as 3D files, made once: a version of a vehicle never changes. Thread-safe.
class Models {
 public:
  /// The newest version of the vehicle as GLB. Errors: not_found, io, those of vehicle_glb.
  Result<std::shared_ptr<const std::string>> glb(const workbench::Workbench& workbench,
                                                 const std::string& vehicle);

 private:
  std::mutex mutex_;
  std::map<std::pair<std::string, int>, std::shared_ptr<const std::string>> made_;
};

}  // namespace film::server
