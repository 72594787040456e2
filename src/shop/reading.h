#pragma once

#include <string>
#include <vector>

#include "base/result.h"

namespace film::shop {

enum class Stage { before, after };

/// A meter held to a window. Appended to the job, never changed; the newest of a stage counts.
struct GlassReading {
  std::string panel;
  Stage stage = Stage::before;
  double transmittance = 0;  ///< share of visible light, 0 to 1
  double uncertainty = 0;    ///< of the meter, share of all light
  std::string meter;         ///< which one, with its last check; may be empty
  std::string who;
  std::string at;  ///< RFC 3339, UTC

  friend bool operator==(const GlassReading&, const GlassReading&) = default;
};

/// Errors: invalid_input (no panel, a share outside 0 to 1, an uncertainty of 0 or above 0.2, text
/// too long, nobody who read it).
Result<void> check(const GlassReading& reading);

/// The newest reading of that panel and stage, or null. Lives as long as the readings.
const GlassReading* newest(const std::vector<GlassReading>& readings, const std::string& panel,
                           Stage stage);

}  // namespace film::shop
