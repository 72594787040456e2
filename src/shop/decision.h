#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "shop/job.h"
#include "shop/vehicle.h"

namespace film::shop {

/// What a person must answer for before work on a panel is planned.
enum class Concern {
  lamp,       ///< film takes light from a lamp
  reflector,  ///< and twice from a reflector
  sensor,     ///< a camera, radar or the like looks through the film
};

/// A signed decision. Appended to the job, never changed; the newest counts.
struct Decision {
  std::string panel;
  Concern concern = Concern::lamp;
  bool go_ahead = false;  ///< false: decided against it
  std::string signed_by;  ///< full name of who answers for it
  std::string basis;      ///< on what it rests: inspection, approval, the vehicle maker's consent
  std::string at;         ///< RFC 3339, UTC

  friend bool operator==(const Decision&, const Decision&) = default;
};

/// Errors: invalid_input (no signature of at least two letters, no basis of a few words, text too
/// long).
Result<void> check(const Decision& decision);

/// What must be decided before film is planned on this panel; empty for most.
std::vector<Concern> concerns_of(const Panel& panel);

/// A decision that the job's scope still lacks.
struct OpenConcern {
  std::string panel;
  Concern concern = Concern::lamp;
  bool refused = false;  ///< it was decided, against

  friend bool operator==(const OpenConcern&, const OpenConcern&) = default;
};

/// In the order of the scope; only the items of `film` unless it is empty.
std::vector<OpenConcern> open_concerns(const Job& job, const VehicleModel& vehicle,
                                       const std::vector<Decision>& decisions,
                                       std::string_view film);

/// Whether work on these panels may be planned. Errors: conflict, naming the first panel, what must
/// be decided and how many more are open.
Result<void> check_decided(const Job& job, const VehicleModel& vehicle,
                           const std::vector<Decision>& decisions, std::string_view film);

/// The hard caution that stands above the signature.
std::string_view caution_for(Concern concern);

}  // namespace film::shop
