#pragma once

#include <string>

#include "base/result.h"
#include "shop/vehicle.h"

namespace film::workbench {

/// The vehicle in 3D as one GLB file (formats/gltf.h): a node for each panel, its name the panel's
/// id, in order, and one named "scenery:" and its id for each scenery. Vertices and triangles keep
/// the order of the panel's surface. Each finish has a plain look of its own.
/// Errors: those of write_glb.
Result<std::string> vehicle_glb(const shop::VehicleModel& vehicle);

}  // namespace film::workbench
