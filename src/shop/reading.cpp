#include "shop/reading.h"

#include <algorithm>

namespace film::shop {

Result<void> check(const GlassReading& reading) {
  const auto refuse = [](std::string what, std::string field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what), std::move(field), std::move(remedy));
  };
  if (reading.panel.empty()) return refuse("a reading names no window", "panel", "Name it.");
  if (!(reading.transmittance >= 0 && reading.transmittance <= 1)) {
    return refuse("a reading outside 0 to 100 %", "transmittance", "Read the meter again.");
  }
  if (!(reading.uncertainty > 0 && reading.uncertainty <= 0.2)) {
    return refuse("a meter without its uncertainty", "uncertainty",
                  "Give what its maker states, above 0 and up to 20 points.");
  }
  if (reading.who.empty() || reading.who.size() > 240 || reading.meter.size() > 480) {
    return refuse("a reading without who read it, or a text too long", "who",
                  "Give a name of at most 60 letters.");
  }
  return {};
}

const GlassReading* newest(const std::vector<GlassReading>& readings, const std::string& panel,
                           Stage stage) {
  const auto found = std::find_if(
      readings.rbegin(), readings.rend(),
      [&](const GlassReading& each) { return each.panel == panel && each.stage == stage; });
  return found == readings.rend() ? nullptr : &*found;
}

}  // namespace film::shop
