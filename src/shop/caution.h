#pragma once

#include <string>
#include <vector>

#include "shop/language.h"
#include "shop/vehicle.h"

namespace film::shop {

/// The usual cautions for covering this panel: road visibility, lamps, reflectors, sensors, badges.
/// Reminders for people, common practice; local code and licensed practice decide. Each is one
/// sentence. Empty for a plain painted panel.
std::vector<std::string> cautions_for(const Panel& panel, Language language = Language::english);

/// Cautions of the work itself, the same for every vehicle: blades, solvent, heat, airbags.
std::vector<std::string> work_cautions(Language language = Language::english);

}  // namespace film::shop
