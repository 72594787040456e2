#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "base/result.h"
#include "glazing/limits.h"
#include "glazing/stack.h"

namespace film::glazing {

/// What a lamp or reflector is for.
enum class LampUse { head, front_position, tail, stop, turn_front, turn_rear, marker, reflector };

/// Colour of the light that leaves the bare lens.
enum class LampColour { white, red, amber };

/// The light of a filament lamp (CIE illuminant A) behind a lens of the colour, times V(lambda).
/// Red and amber: everything beyond the edge of the lens (600 and 560 nm; rounded from usual signal
/// glass, from memory).
const BandWeights& lamp_weights(LampColour colour);

/// Of the light of a bare lamp, the share that is left under the film. Film on the lens: a clear
/// lens of index 1.59 (polycarbonate, handbook value) is under it, so one boundary with air is
/// exchanged for another. A reflector's light passes twice: squared wavelength by wavelength.
struct LampLight {
  double left = 1;
  int passes = 1;
  Method method = Method::spectral;
};

/// Errors: as average_of.
Result<LampLight> light_left(const Sheet& film, LampUse use, LampColour colour);

/// What a regulation asks of a lamp or reflector.
struct LampLimit {
  std::string regime;  ///< "UN R3", "49 CFR 571.108"
  LampUse use = LampUse::tail;
  LampColour colour = LampColour::red;
  std::optional<double> least;  ///< on the axis; none: no single figure
  std::string unit;             ///< "cd", "mcd/lx"
  std::string text;
  std::string source;
  std::string date_read;
  Confidence confidence = Confidence::memory;
  std::string note;
  friend bool operator==(const LampLimit&, const LampLimit&) = default;
};

/// Compares a lamp measured bare with what is asked. Only a measured baseline and a row whose text
/// was read can give `allowed`; a measured baseline that falls below a read or second-hand figure
/// gives `not_allowed`; everything else is `unknown`. That one point on the axis is met does not
/// show that the whole beam is.
struct LampRuling {
  Verdict verdict = Verdict::unknown;
  std::string reason;
  std::optional<double> remaining;  ///< baseline times light left
};
LampRuling judge_lamp(const LampLimit& limit, const LampLight& light,
                      std::optional<double> measured_bare);

/// The hard caution for all such work.
std::string_view lamp_caution();

/// Errors (invalid_input): no regime or text, a figure that is not above zero, a read row without
/// source and day.
Result<void> check(const LampLimit& limit);

}  // namespace film::glazing
