#pragma once

#include <string>
#include <vector>

#include "glazing/stack.h"

namespace film::glazing {

/// How well the air outside and inside takes heat from the pane, W / (m2 K).
struct HeatTransfer {
  std::string name;
  double outside = 23;
  double inside = 8;
  friend bool operator==(const HeatTransfer&, const HeatTransfer&) = default;
};

/// Light wind on a building or a parked car: 23 and 8. Source: EN 410 (from memory).
HeatTransfer stationary();
/// A moving vehicle: outside 4 + 4 v by convection (v in m/s) and 5 by radiation. Source: ISO 6946,
/// annex on surface resistance (from memory); carried beyond the wind speeds it was made for.
HeatTransfer moving(double metres_per_second);

/// Where the sun's heat goes.
struct HeatGain {
  double direct = 0;           ///< solar transmittance
  double secondary = 0;        ///< taken up by the sheets and given off inside
  double gain = 0;             ///< g = direct + secondary
  double rejected = 0;         ///< tser = 1 - g, under these conditions only
  std::vector<double> inward;  ///< of what each sheet takes up, the share that goes inside
  friend bool operator==(const HeatGain&, const HeatGain&) = default;
};

/// Each sheet is as warm on one face as on the other; its heat flows out and in through the air
/// gaps and the two films of air in proportion to their conductance. `solar` are the averages over
/// the solar band of this stack. Source: EN 410 / ISO 9050, total solar energy transmittance,
/// generalized to any number of gaps (a chain of resistances).
HeatGain heat_gain(const StackOptics& solar, const std::vector<Joint>& joints,
                   const HeatTransfer& air);

}  // namespace film::glazing
