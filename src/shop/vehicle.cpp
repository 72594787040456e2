#include "shop/vehicle.h"

#include <algorithm>

namespace film::shop {

const Panel* find_panel(const VehicleModel& vehicle, std::string_view id) {
  const auto found = std::find_if(vehicle.panels.begin(), vehicle.panels.end(),
                                  [id](const Panel& panel) { return panel.id == id; });
  return found == vehicle.panels.end() ? nullptr : &*found;
}

}  // namespace film::shop
