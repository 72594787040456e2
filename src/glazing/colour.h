#pragma once

#include <array>
#include <vector>

#include "base/result.h"
#include "glazing/spectrum.h"
#include "glazing/stack.h"

namespace film::glazing {

/// CIE 1931 tristimulus values, white of D65 at y = 1.
struct Xyz {
  double x = 0;
  double y = 0;
  double z = 0;
  friend bool operator==(const Xyz&, const Xyz&) = default;
};

/// CIE L*a*b* of 1976 against the white of D65. Source: ISO/CIE 11664-4.
struct Lab {
  double l = 0;
  double a = 0;
  double b = 0;
  friend bool operator==(const Lab&, const Lab&) = default;
};

/// Amounts of light in the primaries of sRGB. Amounts add; shown values (see `shown`) do not.
struct LinearRgb {
  double r = 0;
  double g = 0;
  double b = 0;
  friend bool operator==(const LinearRgb&, const LinearRgb&) = default;
};

/// One colour for a screen, each 0 to 255.
using ShownRgb = std::array<int, 3>;

/// The 2 degree observer of CIE 1931 under D65, for each of the three values: weights that contain
/// their step. That of y is `visible_weights()`, to scale.
const std::array<BandWeights, 3>& observer_weights();

/// What the eye makes of D65 light of which `shares` pass (or come back), one for each wavelength
/// of `visible_weights()`.
Xyz seen(const std::vector<double>& shares);

/// Of white light, all of it.
Xyz white();

Lab lab(const Xyz& light);

/// How different two colours look; about 1 is the least that an eye finds side by side.
/// Source: CIEDE2000, ISO/CIE 11664-6; held against the pairs of Sharma, Wu and Dalal (2005).
double difference(const Lab& first, const Lab& second);

/// Source: the matrix of IEC 61966-2-1. Parts outside 0 to 1 are kept, so that light still adds.
LinearRgb linear_rgb(const Xyz& light);

/// The value of a screen for an amount of light from 0 to 1. Source: IEC 61966-2-1.
double encode(double amount);
double decode(double shown);
ShownRgb shown(const LinearRgb& light);

/// A window as it looks by day, in amounts of white D65 light.
struct WindowLook {
  Xyz through;       ///< light from outside, seen from inside (or the other way: the same for clear
                     ///< materials)
  Xyz back_through;  ///< light from inside, seen from outside
  Xyz mirrored;      ///< the sky in the pane, seen from outside
  bool grey = false;  ///< a sheet had only averages, so it was taken for grey
};

/// Works out the colours wavelength by wavelength. Errors: as average_of.
Result<WindowLook> look_of(const Stack& stack);

/// The light that comes from a window, seen from outside by day: the sky in the pane, and the
/// cabin behind it, lit through the pane and seen through it again.
struct DaylightScene {
  double sky = 1;       ///< brightness of what is mirrored, white is 1
  double cabin = 0.12;  ///< share of the light in the cabin that comes back (common practice: dark
                        ///< upholstery, no source)
};
Xyz seen_from_outside(const WindowLook& look, const DaylightScene& scene = {});

}  // namespace film::glazing
