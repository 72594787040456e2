#include "shop/roll_measure.h"

#include <cmath>
#include <numbers>

#include "base/text.h"

namespace film::shop {
namespace {

using std::numbers::pi;

bool is_measure(const Measured& m) {
  return std::isfinite(m.value) && m.value >= 0 && std::isfinite(m.uncertainty) &&
         m.uncertainty >= 0;
}

Failure refuse(std::string what, std::string where, std::string remedy) {
  return fail(ErrorCode::invalid_input, std::move(what), std::move(where), std::move(remedy));
}

constexpr const char* kMeasureAgain = "Measure again; nothing is negative.";

}  // namespace

Result<Measured> length_by_diameter(const RollDiameters& roll) {
  if (!is_measure(roll.outer) || !is_measure(roll.core) || !is_measure(roll.wound)) {
    return refuse("a measure that is not a number", "diameters", kMeasureAgain);
  }
  if (!(roll.wound.value > 0)) {
    return refuse("no thickness of a turn", "wound",
                  "Give the thickness of film and liner together.");
  }
  const double outer = roll.outer.value;
  const double core = roll.core.value;
  const double t = roll.wound.value;
  if (core > outer) {
    return refuse(format("a core of {} mm in a roll of {} mm", core, outer), "outer",
                  "The core is inside the roll: swap the two diameters.");
  }
  const double length = pi * (outer * outer - core * core) / (4 * t);
  const double by_outer = pi * outer / (2 * t) * roll.outer.uncertainty;
  const double by_core = pi * core / (2 * t) * roll.core.uncertainty;
  const double by_thickness = length / t * roll.wound.uncertainty;
  return Measured{length, std::hypot(by_outer, by_core, by_thickness)};
}

Result<Measured> length_by_weight(const RollWeight& roll, Mm width) {
  if (!is_measure(roll.gross) || !is_measure(roll.core) || !is_measure(roll.areal)) {
    return refuse("a measure that is not a number", "weight", kMeasureAgain);
  }
  if (!(roll.areal.value > 0 && width > Mm{0})) {
    return refuse("film without weight or width", "areal",
                  "Give the weight of film and liner in grams a square metre.");
  }
  if (roll.core.value > roll.gross.value) {
    return refuse(format("a core of {} g in a roll of {} g", roll.core.value, roll.gross.value),
                  "gross", "The core is part of the roll: check both weights.");
  }
  const double gram_per_mm = roll.areal.value * width.value * 1e-6;
  const double length = (roll.gross.value - roll.core.value) / gram_per_mm;
  const double by_weights = std::hypot(roll.gross.uncertainty, roll.core.uncertainty) / gram_per_mm;
  const double by_areal = length / roll.areal.value * roll.areal.uncertainty;
  return Measured{length, std::hypot(by_weights, by_areal)};
}

double spiral_length(double core, double outer, double thickness) {
  const double b = thickness / (2 * pi);
  const auto from_pole = [b](double r) {
    return (r * std::hypot(r, b) + b * b * std::asinh(r / b)) / (2 * b);
  };
  return from_pole(outer / 2) - from_pole(core / 2);
}

StockCheck compare(const Roll& roll, const Measured& length) {
  StockCheck check{roll.remaining, Mm{length.value}, Mm{2 * length.uncertainty}, false};
  check.agrees = std::abs(check.book.value - check.measured.value) <= check.tolerance.value;
  return check;
}

std::string warning_of(const StockCheck& check) {
  if (check.agrees) return {};
  return format("the book says {:.2f} m, the measure {:.2f} m (within {:.2f} m): count the roll",
                check.book.value / 1000, check.measured.value / 1000, check.tolerance.value / 1000);
}

}  // namespace film::shop
