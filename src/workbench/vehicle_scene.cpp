#include "workbench/vehicle_scene.h"

#include <array>
#include <vector>

#include "formats/gltf.h"

namespace film::workbench {
namespace {

using formats::GltfMaterial;

/// One look for each shop::Finish, in its order.
std::vector<GltfMaterial> looks() {
  return {{"gloss_paint", {0.012, 0.062, 0.080, 1}, 0.5, 0.36, 1},
          {"matte_paint", {0.012, 0.062, 0.080, 1}, 0.4, 0.70, 0},
          {"gloss_black", {0.003, 0.003, 0.004, 1}, 0.0, 0.12, 1},
          {"bare_plastic", {0.010, 0.011, 0.012, 1}, 0.0, 0.80, 0},
          {"chrome", {0.750, 0.770, 0.790, 1}, 1.0, 0.15, 0},
          {"lamp", {0.480, 0.560, 0.600, 1}, 0.3, 0.08, 1},
          {"reflector", {0.280, 0.010, 0.012, 1}, 0.2, 0.20, 1},
          {"glass", {0.006, 0.009, 0.011, 1}, 0.0, 0.04, 1},
          {"rubber", {0.007, 0.007, 0.008, 1}, 0.0, 0.90, 0}};
}

}  // namespace

Result<std::string> vehicle_glb(const shop::VehicleModel& vehicle) {
  std::vector<std::string> names;  // of scenery; reserved so that views into it stay good
  names.reserve(vehicle.scenery.size());
  std::vector<formats::GltfMesh> meshes;
  for (const shop::Panel& panel : vehicle.panels) {
    meshes.push_back({panel.id, static_cast<std::size_t>(panel.finish), &panel.surface});
  }
  for (const shop::Scenery& part : vehicle.scenery) {
    names.push_back("scenery:" + part.id);
    meshes.push_back({names.back(), static_cast<std::size_t>(part.finish), &part.surface});
  }
  return formats::write_glb(meshes, looks());
}

}  // namespace film::workbench
