#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "glazing/heat.h"
#include "glazing/stack.h"

namespace film::exchange {

/// A stack of glass and film with what is asked about it.
struct GlassRequest {
  glazing::Stack stack;
  std::vector<glazing::BandWeights> bands;
  std::vector<glazing::HeatTransfer> air;  ///< g and tser for each; at least one
  glazing::BandWeights solar;              ///< the band that heat is counted in

  friend bool operator==(const GlassRequest&, const GlassRequest&) = default;
};

/// Glass JSON, docs/formats/glass.md. Errors (invalid_input) name the layer or band.
Result<GlassRequest> read_glass_request(std::string_view bytes);

}  // namespace film::exchange
