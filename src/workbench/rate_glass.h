#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "exchange/glass_json.h"
#include "glazing/heat.h"
#include "glazing/stack.h"

namespace film::workbench {

/// Everything asked about one stack.
struct GlassRating {
  struct Gain {
    glazing::HeatTransfer air;
    glazing::HeatGain heat;
  };
  std::vector<glazing::BandResult> bands;
  std::vector<Gain> gains;  ///< one for each condition asked; empty: no figures for solar
  glazing::Method gain_method = glazing::Method::spectral;
  std::vector<std::string> notes;  ///< what a reader must know to use the figures rightly
};

/// Errors: those of the kernel.
Result<GlassRating> rate_glass(const exchange::GlassRequest& request);

}  // namespace film::workbench
