#pragma once

#include <string_view>
#include <vector>

#include "base/result.h"
#include "glazing/heat.h"
#include "glazing/spectrum.h"
#include "glazing/stack.h"

namespace film::exchange {

/// A stack of glass and film with what is asked about it.
struct GlassRequest {
  glazing::Stack stack;
  std::vector<glazing::BandWeights> bands;  ///< as asked; visible, solar and uv when nothing is
  glazing::BandWeights solar;               ///< the band that heat is counted in
  std::vector<glazing::HeatTransfer> air;   ///< g and tser for each; at least one

  friend bool operator==(const GlassRequest&, const GlassRequest&) = default;
};

/// Glass JSON, docs/formats/glass.md. Errors (invalid_input) name the layer or band; too_large past
/// 100 layers, 10,000 rows of one spectrum or 100 bands.
Result<GlassRequest> read_glass_request(std::string_view bytes);

/// One layer of Glass JSON by itself, as a film or a pane is kept. Errors: as read_glass_request.
Result<glazing::Sheet> read_glass_sheet(std::string_view bytes);

}  // namespace film::exchange
