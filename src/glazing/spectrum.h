#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "glazing/optics.h"

namespace film::glazing {

/// A wavelength in nanometres.
struct Nm {
  double value = 0;
  friend constexpr auto operator<=>(Nm, Nm) = default;
};

/// The optics of a layer along the wavelengths: rising, at least two, linear between them.
struct SpectralOptics {
  std::vector<Nm> wavelengths;
  std::vector<Optics> values;

  /// Linear between the samples; nothing outside the measured range.
  [[nodiscard]] std::optional<Optics> at(Nm wavelength) const;

  friend bool operator==(const SpectralOptics&, const SpectralOptics&) = default;
};

/// Shares outside 0..1, or adding up to more than 1 and a little for the meter (invalid_input).
std::optional<Error> fault_of(const Optics& optics, const std::string& where);
/// Errors (invalid_input, naming the wavelength): fewer than two samples, wavelengths that do not
/// rise, shares outside 0..1 or adding up to more than 1.
std::optional<Error> fault_of(const SpectralOptics& spectrum);

/// Weights that already contain the width of their step: an average is the plain weighted sum.
/// The sum need not be 1. A type of its own, so that no one integrates it and counts the step
/// twice.
struct BandWeights {
  std::string name;   ///< "visible"
  std::string basis;  ///< what was weighted, with its source
  std::vector<Nm> wavelengths;
  std::vector<double> weights;

  friend bool operator==(const BandWeights&, const BandWeights&) = default;
};

/// A density along the wavelength (W per m2 and nm, or any multiple): an average is the quotient
/// of two integrals by the trapezoid rule.
struct SpectralDensity {
  std::string name;
  std::string basis;
  std::vector<Nm> wavelengths;
  std::vector<double> densities;

  friend bool operator==(const SpectralDensity&, const SpectralDensity&) = default;
};

std::optional<Error> fault_of(const BandWeights& weights);
std::optional<Error> fault_of(const SpectralDensity& density);

/// The mean of values, one for each wavelength of the weights or density.
double average(const BandWeights& weights, const std::vector<double>& values);
double average(const SpectralDensity& density, const std::vector<double>& values);

/// The density cut into weights at its own wavelengths (half the gap to each neighbour), so that
/// both give the same average.
BandWeights weights_of(const SpectralDensity& density);

/// The integral of the density over each cell of the grid, the cells meeting half-way between its
/// wavelengths; the first and last cell end at the first and last wavelength.
BandWeights weights_of(const SpectralDensity& density, const std::vector<Nm>& grid);

/// CIE standard illuminant D65 at the wavelengths of `visible_weights()`.
const std::array<double, 41>& daylight_d65();
/// V(lambda), the eye's sensitivity by day, at the wavelengths of `visible_weights()`.
const std::array<double, 41>& eye_by_day();

/// Light as the eye sees it by day: CIE D65 times V(lambda), 380 to 780 nm in steps of 10.
const BandWeights& visible_weights();
/// Direct sunlight, 300 to 2500 nm.
const BandWeights& solar_weights();
/// The part of direct sunlight past the visible, 780 to 2500 nm.
const BandWeights& infrared_weights();
/// Ultraviolet of the sun, 300 to 380 nm.
const BandWeights& ultraviolet_weights();

}  // namespace film::glazing
