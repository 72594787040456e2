#include "glazing/lamp.h"

#include <array>
#include <cmath>

#include "base/text.h"

namespace film::glazing {
namespace {

constexpr double kLensIndex = 1.59;

// CIE illuminant A, relative: Planck at 2848 K with c2 = 14350 um K. Source: ISO/CIE 11664-2.
double filament(double nm) {
  const double relative = 560 / nm;
  return 100 * std::pow(relative, 5) * (std::exp(1.435e7 / (2848 * 560)) - 1) /
         (std::exp(1.435e7 / (2848 * nm)) - 1);
}

double lens_edge(LampColour colour) {
  switch (colour) {
    case LampColour::white: return 0;
    case LampColour::red: return 600;
    case LampColour::amber: return 560;
  }
  return 0;
}

BandWeights make_weights(LampColour colour) {
  constexpr std::array<const char*, 3> kNames{"white lamp", "red lamp", "amber lamp"};
  BandWeights band = visible_weights();
  band.name = kNames[static_cast<std::size_t>(colour)];
  band.basis = "CIE illuminant A times V(lambda), 380 to 780 nm in steps of 10 nm";
  if (colour != LampColour::white) {
    band.basis += format(", from {:.0f} nm up", lens_edge(colour));
  }
  for (std::size_t k = 0; k < band.wavelengths.size(); ++k) {
    const double nm = band.wavelengths[k].value;
    band.weights[k] = nm < lens_edge(colour) ? 0 : filament(nm) * eye_by_day()[k];
  }
  return band;
}

}  // namespace

const BandWeights& lamp_weights(LampColour colour) {
  static const std::array<BandWeights, 3> all{make_weights(LampColour::white),
                                              make_weights(LampColour::red),
                                              make_weights(LampColour::amber)};
  return all[static_cast<std::size_t>(colour)];
}

Result<LampLight> light_left(const Sheet& film, LampUse use, LampColour colour) {
  // A lens that takes up nothing stands for the real one: what it takes it takes bare as well.
  Sheet lens;
  lens.id = "lens";
  const Optics clear = clear_sheet(kLensIndex, 1);
  lens.optics = BandedOptics{{{"visible", clear}}};
  lens.front_index = lens.back_index = kLensIndex;
  const Stack covered{{lens, film}, {{Joint::Kind::bonded, 0}}};  // light meets the lens first
  const auto along = optics_along(covered, visible_weights());
  if (!along) return Failure(along.error());
  LampLight light;
  light.passes = use == LampUse::reflector ? 2 : 1;
  light.method = along->method;
  // The lens has only an average and is grey by nature; the film decides the method.
  if (std::holds_alternative<SpectralOptics>(film.optics)) light.method = Method::spectral;
  std::vector<double> left;
  for (const Optics& each : along->values) {
    const double out = each.transmit_front / clear.transmit_front;
    const double in = each.transmit_back / clear.transmit_back;
    left.push_back(light.passes == 2 ? in * out : out);
  }
  light.left = average(lamp_weights(colour), left);
  return light;
}

LampRuling judge_lamp(const LampLimit& limit, const LampLight& light,
                      std::optional<double> measured_bare) {
  LampRuling ruling;
  if (!measured_bare) {
    ruling.reason = "The bare lamp was not measured, so nobody knows what is left.";
    return ruling;
  }
  ruling.remaining = *measured_bare * light.left;
  if (!limit.least) {
    ruling.reason = "The regulation gives no single figure for this lamp.";
    return ruling;
  }
  const std::string figures =
      format("{:.1f} {} of {:.1f} are left, {} asks for {:.1f}.", *ruling.remaining, limit.unit,
             *measured_bare, limit.regime, *limit.least);
  if (limit.confidence == Confidence::memory) {
    ruling.reason = "The figure asked for is from memory and decides nothing. " + figures;
  } else if (*ruling.remaining < *limit.least) {
    ruling.verdict = Verdict::not_allowed;
    ruling.reason = figures;
  } else if (limit.confidence == Confidence::secondary) {
    ruling.reason = "The text of the regulation was not read, so this is no yes. " + figures;
  } else {
    ruling.verdict = Verdict::allowed;
    ruling.reason = figures +
                    " That holds for this one direction; the rest of the beam and its "
                    "colour were not compared.";
  }
  return ruling;
}

std::string_view lamp_caution() {
  return "Film on lamps and reflectors takes light that others need to see this vehicle in time. "
         "It may void approval and insurance and may be forbidden whatever is left. Do it only "
         "with a signed decision; local code prevails and a licensed inspection decides.";
}

Result<void> check(const LampLimit& limit) {
  const auto refuse = [&limit](std::string what, std::string field) {
    return fail(ErrorCode::invalid_input, std::move(what),
                format("{}, {}", limit.regime.empty() ? "a lamp row" : limit.regime, field));
  };
  if (limit.regime.empty()) return refuse("a lamp row names no regulation", "regime");
  if (limit.text.empty()) return refuse("a lamp row cites no text", "text");
  if (limit.least && !(*limit.least > 0 && std::isfinite(*limit.least))) {
    return refuse("a figure asked for is not above zero", "least");
  }
  if (limit.confidence != Confidence::memory &&
      (limit.date_read.size() != 10 || limit.source.empty())) {
    return refuse("a row that was read says where and on which day", "date_read");
  }
  return {};
}

}  // namespace film::glazing
