#include "glazing/spectrum.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "base/text.h"

namespace film::glazing {
namespace {

constexpr double kMeasured =
    0.01;  // meters leave T + R a little above 1; past this it is a mistake

std::optional<Error> fault(std::string what, std::string where) {
  return Error{ErrorCode::invalid_input, std::move(what), std::move(where), {}};
}

bool is_measured_share(double value) { return value >= 0 && value <= 1; }

std::optional<Error> fault_of_grid(const std::vector<Nm>& wavelengths, std::size_t values,
                                   const std::string& name) {
  if (wavelengths.size() != values) return fault("values and wavelengths do not match", name);
  if (wavelengths.size() < 2) return fault("at least two wavelengths are needed", name);
  for (std::size_t k = 0; k < wavelengths.size(); ++k) {
    const double nm = wavelengths[k].value;
    if (!std::isfinite(nm) || nm <= 0) return fault("a wavelength is no length", name);
    if (k > 0 && nm <= wavelengths[k - 1].value) {
      return fault(format("wavelengths do not rise at {} nm", nm), name);
    }
  }
  return std::nullopt;
}

std::optional<Error> fault_of_amounts(const std::vector<double>& amounts, const std::string& name) {
  double sum = 0;
  for (const double amount : amounts) {
    if (!std::isfinite(amount) || amount < 0) return fault("an amount is negative", name);
    sum += amount;
  }
  if (sum <= 0) return fault("all amounts are zero", name);
  return std::nullopt;
}

}  // namespace

std::optional<Error> fault_of(const Optics& optics, const std::string& where) {
  const bool shares =
      is_measured_share(optics.transmit_front) && is_measured_share(optics.reflect_front) &&
      is_measured_share(optics.transmit_back) && is_measured_share(optics.reflect_back);
  if (!shares) return fault("a share of light lies outside 0 to 1", where);
  if (optics.absorb_front() < -kMeasured || optics.absorb_back() < -kMeasured) {
    return fault("more light leaves than arrives", where);
  }
  return std::nullopt;
}

std::optional<Optics> SpectralOptics::at(Nm wavelength) const {
  if (wavelengths.empty() || wavelength < wavelengths.front() || wavelength > wavelengths.back()) {
    return std::nullopt;
  }
  const auto above = std::lower_bound(wavelengths.begin(), wavelengths.end(), wavelength);
  const auto k = static_cast<std::size_t>(above - wavelengths.begin());
  if (*above == wavelength) return values[k];
  const Optics& a = values[k - 1];
  const Optics& b = values[k];
  const double share = (wavelength.value - wavelengths[k - 1].value) /
                       (wavelengths[k].value - wavelengths[k - 1].value);
  return Optics{std::lerp(a.transmit_front, b.transmit_front, share),
                std::lerp(a.reflect_front, b.reflect_front, share),
                std::lerp(a.transmit_back, b.transmit_back, share),
                std::lerp(a.reflect_back, b.reflect_back, share)};
}

std::optional<Error> fault_of(const SpectralOptics& spectrum) {
  if (auto error = fault_of_grid(spectrum.wavelengths, spectrum.values.size(), "spectrum")) {
    return error;
  }
  for (std::size_t k = 0; k < spectrum.values.size(); ++k) {
    if (auto error =
            fault_of(spectrum.values[k], format("at {} nm", spectrum.wavelengths[k].value))) {
      return error;
    }
  }
  return std::nullopt;
}

std::optional<Error> fault_of(const BandWeights& weights) {
  if (auto error = fault_of_grid(weights.wavelengths, weights.weights.size(), weights.name)) {
    return error;
  }
  return fault_of_amounts(weights.weights, weights.name);
}

std::optional<Error> fault_of(const SpectralDensity& density) {
  if (auto error = fault_of_grid(density.wavelengths, density.densities.size(), density.name)) {
    return error;
  }
  return fault_of_amounts(density.densities, density.name);
}

double average(const BandWeights& weights, const std::vector<double>& values) {
  FILM_ASSERT(values.size() == weights.weights.size());
  double sum = 0;
  double whole = 0;
  for (std::size_t k = 0; k < values.size(); ++k) {
    sum += weights.weights[k] * values[k];
    whole += weights.weights[k];
  }
  return sum / whole;
}

double average(const SpectralDensity& density, const std::vector<double>& values) {
  FILM_ASSERT(values.size() == density.densities.size());
  double sum = 0;
  double whole = 0;
  for (std::size_t k = 0; k + 1 < values.size(); ++k) {
    const double step = density.wavelengths[k + 1].value - density.wavelengths[k].value;
    sum += step / 2 * (density.densities[k] * values[k] + density.densities[k + 1] * values[k + 1]);
    whole += step / 2 * (density.densities[k] + density.densities[k + 1]);
  }
  return sum / whole;
}

BandWeights weights_of(const SpectralDensity& density) {
  BandWeights weights{density.name, density.basis, density.wavelengths, {}};
  const std::vector<Nm>& nm = density.wavelengths;
  for (std::size_t k = 0; k < nm.size(); ++k) {
    const double below = k > 0 ? nm[k].value - nm[k - 1].value : 0;
    const double above = k + 1 < nm.size() ? nm[k + 1].value - nm[k].value : 0;
    weights.weights.push_back(density.densities[k] * (below + above) / 2);
  }
  return weights;
}

BandWeights weights_of(const SpectralDensity& density, const std::vector<Nm>& grid) {
  // The integral from the first wavelength of the density up to any other.
  std::vector<double> up_to(density.wavelengths.size(), 0);
  for (std::size_t k = 1; k < up_to.size(); ++k) {
    up_to[k] = up_to[k - 1] + (density.wavelengths[k].value - density.wavelengths[k - 1].value) /
                                  2 * (density.densities[k] + density.densities[k - 1]);
  }
  const auto integral = [&](double nm) {
    const auto above =
        std::upper_bound(density.wavelengths.begin(), density.wavelengths.end(), Nm{nm});
    if (above == density.wavelengths.begin()) return 0.0;
    const auto k = static_cast<std::size_t>(above - density.wavelengths.begin()) - 1;
    if (above == density.wavelengths.end()) return up_to.back();
    const double step = nm - density.wavelengths[k].value;
    const double share = step / (above->value - density.wavelengths[k].value);
    const double here = std::lerp(density.densities[k], density.densities[k + 1], share);
    return up_to[k] + step / 2 * (density.densities[k] + here);
  };
  BandWeights weights{density.name, density.basis, grid, {}};
  for (std::size_t k = 0; k < grid.size(); ++k) {
    const double from = k > 0 ? (grid[k - 1].value + grid[k].value) / 2 : grid[k].value;
    const double to = k + 1 < grid.size() ? (grid[k].value + grid[k + 1].value) / 2 : grid[k].value;
    weights.weights.push_back(integral(to) - integral(from));
  }
  return weights;
}

}  // namespace film::glazing
