#pragma once

#include <string>

#include "base/result.h"
#include "base/units.h"
#include "shop/roll.h"

namespace film::shop {

/// A quantity as measured: its value and its standard uncertainty, in the same unit.
struct Measured {
  double value = 0;
  double uncertainty = 0;

  friend bool operator==(const Measured&, const Measured&) = default;
};

/// A roll held against a rule.
struct RollDiameters {
  Measured outer;  ///< over the film, mm
  Measured core;   ///< outer diameter of the bare core, mm
  Measured wound;  ///< thickness of one turn: film, adhesive and liner, mm

  friend bool operator==(const RollDiameters&, const RollDiameters&) = default;
};

/// A roll on the scales.
struct RollWeight {
  Measured gross;  ///< roll with its core, g
  Measured core;   ///< the bare core, g
  Measured areal;  ///< film with adhesive and liner, g/m^2

  friend bool operator==(const RollWeight&, const RollWeight&) = default;
};

/// The length on a roll from its diameters: the area of the ring that the film fills, seen from
/// the end, divided by the thickness of a turn,
///
///     L = pi (D^2 - d^2) / (4 t).
///
/// It is the sum of the circles through the middle of each turn exactly, and differs from the
/// spiral (spiral_length) by parts in a million on a roll of film. The uncertainty is the one
/// propagated from the three measures (JCGM 100:2008, Guide to the expression of uncertainty in
/// measurement, 5.1.2, equation 10, inputs independent). A roll wound loosely has air between its
/// turns: then the real length is shorter. mm.
/// Errors: invalid_input (not a number, a core wider than the roll, no thickness).
Result<Measured> length_by_diameter(const RollDiameters& roll);

/// The length on a roll from its weight: L = (gross - core) / (areal mass x width). mm.
/// Uncertainty as above, that of the width left out. Errors: invalid_input.
Result<Measured> length_by_weight(const RollWeight& roll, Mm width);

/// Length of the Archimedean spiral r = b a, whose turns lie `thickness` apart (b = thickness /
/// 2 pi), between two diameters, in closed form: with F(r) = (r sqrt(r^2 + b^2) + b^2 asinh(r /
/// b)) / (2 b), F(outer / 2) - F(core / 2). The arc length integral is in any table of curves
/// (J. D. Lawrence, A Catalog of Special Plane Curves, 1972, 'Archimedean spiral'). mm.
double spiral_length(double core, double outer, double thickness);

/// What the book says of a roll beside what was measured.
struct StockCheck {
  Mm book;
  Mm measured;
  Mm tolerance;  ///< twice the standard uncertainty of the measure
  bool agrees = false;

  friend bool operator==(const StockCheck&, const StockCheck&) = default;
};

/// Book and measure disagree when they are further apart than twice the standard uncertainty of
/// the measure (about 95 % of good measures of a right book lie within).
StockCheck compare(const Roll& roll, const Measured& length);

/// A warning for people; empty when they agree.
std::string warning_of(const StockCheck& check);

}  // namespace film::shop
