#pragma once

#include <optional>
#include <string>

#include "base/result.h"
#include "glazing/optics.h"

namespace film::glazing {

/// A figure with the least and greatest value it can have.
struct Ranged {
  double value = 0;
  double low = 0;
  double high = 0;
  friend bool operator==(const Ranged&, const Ranged&) = default;
};

/// A known sheet of glass, in air, for one wavelength or band.
struct KnownGlass {
  Optics optics;
  double index = 1.52;
};

/// A film by itself in air, from what was measured with the film bonded to the back of known glass
/// (light from the glass side first). `film_index` is that of the film's faces.
/// The inverse of bonding (glazing/stack.h): round trip exact within rounding.
/// Errors (invalid_input): glass that lets nothing through, or a total that no film on this glass
/// can give.
Result<Optics> free_film(const Optics& total, const KnownGlass& glass, double film_index);

/// What film and glass bonded together let through.
Optics bonded(const Optics& film, double film_index, const KnownGlass& glass);

/// The same when a shop's meter gave only how much passes: a film that takes light up and does not
/// mirror is assumed, with two clear faces of `film_index`. Errors: as free_film.
Result<Optics> free_film_from_meter(double transmittance, const KnownGlass& glass,
                                    double film_index);

/// What a film's printed figure was measured on. There is no figure without it.
struct FilmFigure {
  double transmittance = 0;               ///< as printed
  double reflectance = 0;                 ///< towards the outside, as printed
  std::optional<KnownGlass> measured_on;  ///< none: free, in air
  double rounding = 0.005;                ///< half the last printed digit, or the maker's tolerance
};

/// How sure one is of the other things a moved figure hangs on.
struct MovingDoubts {
  double film_index_low = 1.49;  ///< of films for glass, acrylic hard coat (from memory)
  double film_index = 1.58;
  double film_index_high = 1.66;  ///< polyester (handbook value, from memory)
  double glass = 0.02;            ///< by which the new glass may let more or less through
};

/// The film's transmittance on another glass, with the range left by the rounding of its figure,
/// the index of its faces and the new glass. Errors: as free_film.
Result<Ranged> moved(const FilmFigure& figure, const KnownGlass& to, const MovingDoubts& doubts);

}  // namespace film::glazing
