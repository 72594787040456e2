#include "glazing/heat.h"

#include "base/assert.h"
#include "base/text.h"

namespace film::glazing {

HeatTransfer stationary() { return {"stationary", 23, 8}; }

HeatTransfer moving(double metres_per_second) {
  return {format("moving at {} m/s", metres_per_second), 4 + 4 * metres_per_second + 5, 8};
}

HeatGain heat_gain(const StackOptics& solar, const std::vector<Joint>& joints,
                   const HeatTransfer& air) {
  FILM_ASSERT(joints.size() + 1 == solar.absorbed.size());
  double from_outside = 1 / air.outside;  // resistance from the outside air to each sheet
  double whole = 1 / air.outside + 1 / air.inside;
  for (const Joint& joint : joints) {
    if (joint.kind == Joint::Kind::air) whole += joint.resistance;
  }
  HeatGain gain;
  gain.direct = solar.total.transmit_front;
  for (std::size_t i = 0; i < solar.absorbed.size(); ++i) {
    if (i > 0 && joints[i - 1].kind == Joint::Kind::air) from_outside += joints[i - 1].resistance;
    gain.inward.push_back(from_outside / whole);
    gain.secondary += solar.absorbed[i] * gain.inward.back();
  }
  gain.gain = gain.direct + gain.secondary;
  gain.rejected = 1 - gain.gain;
  return gain;
}

}  // namespace film::glazing
