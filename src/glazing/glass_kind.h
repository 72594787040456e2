#pragma once

#include <string>

#include "base/result.h"
#include "glazing/stack.h"

namespace film::glazing {

/// How factory glass is coloured.
enum class Tint {
  green,  ///< soda-lime with iron: clear to green glass
  grey,   ///< privacy glass
  bronze,
  neutral,  ///< the same at every wavelength; for sums by hand
};

/// A pane that lets this share of visible light through, with a spectrum of its kind: what one
/// assumes of glass that only a shop's meter has seen. Two clear faces of index 1.52 and, between
/// them, exp(-k a(nm)), k solved for the share.
/// The shapes a(nm) are our own, fitted to the averages of EnergyPlus' WindowGlassMaterials (solar
/// and visible of green, grey and bronze, 3 and 6 mm) within 0.03; a pane at hand can differ more.
/// Errors (invalid_input): a share not above 0, or above what two clear faces let through.
Result<Sheet> glass_like(double visible_transmittance, Tint tint, std::string id);

}  // namespace film::glazing
