#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/result.h"
#include "glazing/optics.h"
#include "glazing/spectrum.h"

namespace film::glazing {

/// Optics given as one average for each named band ("visible", "solar", "uv"). Multiplying
/// averages is an approximation; spectra are better where they are at hand.
struct BandedOptics {
  std::map<std::string, Optics> bands;
  friend bool operator==(const BandedOptics&, const BandedOptics&) = default;
};

using MeasuredOptics = std::variant<SpectralOptics, BandedOptics>;

/// A sheet of glass a film was measured on.
struct ReferenceGlass {
  MeasuredOptics optics;
  double index = 1.52;
  friend bool operator==(const ReferenceGlass&, const ReferenceGlass&) = default;
};

/// A pane of glass or a film, with its measured figures and what they were measured on.
struct Sheet {
  std::string id;
  MeasuredOptics optics;  ///< in air: of the free sheet, or of reference glass and film together
  double front_index = 1.52;  ///< refractive index of its outer faces; 1.52: common soda-lime
  double back_index = 1.52;   ///< glass (textbook value)
  /// When set, the figures are those of this glass with the film bonded to its back face (the
  /// inside), light from the glass side first.
  std::optional<ReferenceGlass> measured_on;

  friend bool operator==(const Sheet&, const Sheet&) = default;
};

/// What lies between one sheet and the next.
struct Joint {
  enum class Kind {
    air,     ///< a gap: both faces stand in air
    bonded,  ///< glued face to face: neither face meets air
  };
  Kind kind = Kind::air;
  double resistance = 0.17;  ///< of an air gap to heat, m2 K / W

  friend bool operator==(const Joint&, const Joint&) = default;
};

/// Sheets from outside to inside.
struct Stack {
  std::vector<Sheet> sheets;
  std::vector<Joint> joints;  ///< one fewer than sheets
  friend bool operator==(const Stack&, const Stack&) = default;
};

/// What a stack does to light of one wavelength or band arriving from outside.
struct StackOptics {
  Optics total;
  std::vector<double> absorbed;  ///< by each sheet, of the light from outside
  friend bool operator==(const StackOptics&, const StackOptics&) = default;
};

/// The optics of one sheet at one wavelength or band, ready to be stacked.
struct SheetOptics {
  Optics measured;  ///< as in Sheet
  double front_index = 1.52;
  double back_index = 1.52;
  bool on_reference = false;  ///< measured includes the reference glass
  Optics reference;
  double reference_index = 1.52;
};

/// Stacks sheets at one wavelength or band. A bond takes away the boundary with air of both faces
/// and puts the boundary between the two materials in its place (none when their indices agree).
/// transmit + reflect + all absorbed = 1. Cost: O(sheets).
/// Source: docs/algorithms/glazing.md.
StackOptics stacked(const std::vector<SheetOptics>& sheets, const std::vector<Joint>& joints);

/// A film measured on reference glass, as it would be by itself in air: the glass and the boundary
/// between both are taken away, faces of `film_index` put in their place.
Optics standing_free(const SheetOptics& on_reference, double film_index);

/// How the averages of a band were made.
enum class Method { spectral, banded };

struct BandResult {
  std::string band;
  std::string basis;  ///< of the weights
  Method method = Method::spectral;
  StackOptics optics;
  friend bool operator==(const BandResult&, const BandResult&) = default;
};

/// The first thing that makes the stack meaningless, if any (invalid_input, naming the sheet).
std::optional<Error> fault_of(const Stack& stack);

/// The whole stack along the wavelengths of a band.
struct OpticsAlong {
  std::vector<Optics> values;        ///< one for each wavelength of the band
  Method method = Method::spectral;  ///< banded: a sheet without a spectrum was taken for grey
};

/// The stack at every wavelength of the band. A sheet without a spectrum over the band has its
/// band's average at all of them. Errors: as average_of.
Result<OpticsAlong> optics_along(const Stack& stack, const BandWeights& band);

/// The averages of the whole stack over a band: wavelength by wavelength when every sheet has a
/// spectrum over the whole band, otherwise from the band averages of the sheets (those with a
/// spectrum are averaged first). Errors (invalid_input): a sheet that has neither, or a film whose
/// bond cannot be taken apart in the band (its reference glass lets nothing through).
Result<BandResult> average_of(const Stack& stack, const BandWeights& band);

}  // namespace film::glazing
