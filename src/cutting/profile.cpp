#include "cutting/profile.h"

#include <cmath>
#include <utility>

#include "base/text.h"

namespace film::cutting {
namespace {

constexpr double kMostCorrection = 0.05;  // a machine further off than this is broken, not skewed

/// Gathers the first field that is out of its range.
class RangeCheck {
 public:
  void check(const std::string& field, double value, double low, double high, const char* unit) {
    if (fault_.what.empty() && !(value >= low && value <= high)) {
      fault_ = {
          ErrorCode::invalid_input,
          format("{} is {:g} {}, but must be from {:g} to {:g}", field, value, unit, low, high),
          field, "Correct the machine profile"};
    }
  }
  [[nodiscard]] const Error& fault() const { return fault_; }

 private:
  Error fault_;
};

std::optional<double> number_of(std::optional<Mm> length) {
  return length ? std::optional(length->value) : std::nullopt;
}

}  // namespace

Result<MachineProfile> make_profile(MachineProfile profile) {
  if (profile.name.empty()) {
    return fail(ErrorCode::invalid_input, "the machine profile has no name", "name", "Give it one");
  }
  RangeCheck range;
  range.check("media_width", profile.media_width.value, 20, 5000, "mm");
  const Margins& m = profile.margins;
  range.check("margins.lead", m.lead.value, 0, 1000, "mm");
  range.check("margins.trail", m.trail.value, 0, 1000, "mm");
  range.check("margins.low", m.low.value, 0, 1000, "mm");
  range.check("margins.high", m.high.value, 0, 1000, "mm");
  range.check("media_width less its margins", (profile.media_width - m.low - m.high).value, 10,
              5000, "mm");
  range.check("max_frame_length", profile.max_frame_length.value, 100, 100'000, "mm");
  range.check("units_per_mm", profile.units_per_mm, 1, 1000, "a mm");
  const KnifeSettings& k = profile.knife;
  range.check("knife.blade_offset", k.blade_offset.value, 0, 1.2, "mm");
  range.check("knife.overcut", k.overcut.value, 0, 10, "mm");
  range.check("knife.corner_threshold", k.corner_threshold.degrees(), 1, 30, "degrees");
  if (k.force) range.check("knife.force", *k.force, 0, 10'000, "");
  const Motion& v = profile.motion;
  range.check("motion.cut_speed", v.cut_speed, 1, 5000, "mm/s");
  range.check("motion.travel_speed", v.travel_speed, 1, 5000, "mm/s");
  range.check("motion.acceleration", v.acceleration, 10, 100'000, "mm/s2");
  range.check("motion.corner_jump", v.corner_jump, 0.1, 1000, "mm/s");
  range.check("motion.lift", v.lift.value, 0, 5, "s");
  const Calibration& c = profile.calibration;
  range.check("calibration.scale_x", c.scale_x, 1 - kMostCorrection, 1 + kMostCorrection, "");
  range.check("calibration.scale_y", c.scale_y, 1 - kMostCorrection, 1 + kMostCorrection, "");
  range.check("calibration.skew", c.skew, -kMostCorrection, kMostCorrection, "");
  range.check("pen", profile.pen, 0, 99, "");
  if (profile.aids.weed_lines) {
    range.check("aids.weed_lines", profile.aids.weed_lines->value, 20, 100'000, "mm");
  }
  range.check("link.baud", profile.link.baud, 300, 4'000'000, "");
  range.check("link.buffer_bytes", static_cast<double>(profile.link.buffer_bytes), 0, 1e9, "");
  range.check("link.patience", profile.link.patience.value, 0.1, 86'400, "s");
  for (const auto& [film, settings] : profile.films) {
    const std::string at = "films." + film + ".";
    const auto check = [&](const char* field, std::optional<double> value, double low, double high,
                           const char* unit) {
      if (value) range.check(at + field, *value, low, high, unit);
    };
    check("force", settings.force, 0, 10'000, "");
    check("cut_speed", settings.cut_speed, 1, 5000, "mm/s");
    check("blade_offset", number_of(settings.blade_offset), 0, 1.2, "mm");
    check("overcut", number_of(settings.overcut), 0, 10, "mm");
  }
  if (!range.fault().what.empty()) return Failure(range.fault());
  return profile;
}

MachineProfile for_film(MachineProfile profile, const std::string& film) {
  const auto found = profile.films.find(film);
  if (found == profile.films.end()) return profile;
  const FilmSettings& settings = found->second;
  if (settings.force) profile.knife.force = settings.force;
  if (settings.cut_speed) profile.motion.cut_speed = *settings.cut_speed;
  if (settings.blade_offset) profile.knife.blade_offset = *settings.blade_offset;
  if (settings.overcut) profile.knife.overcut = *settings.overcut;
  return profile;
}

Result<Calibration> calibrate(const MeasuredSquare& measured) {
  const double asked = measured.asked.value;
  const double a = measured.along.value;
  const double b = measured.across.value;
  const double diagonal = measured.diagonal.value;
  const bool sensible = asked > 0 && a > 0 && b > 0 && diagonal > 0 && std::isfinite(asked + a + b);
  if (!sensible || !(std::abs(a - b) < diagonal && diagonal < a + b)) {
    return fail(ErrorCode::invalid_input, "the measured sides and diagonal make no triangle",
                "calibration", "Measure the two sides and the diagonal of one test square again");
  }
  // The machine turned (asked, 0) into u = (a, 0) and (0, asked) into v with |v| = b and
  // |u + v| = diagonal. Seen from the film's x axis v = (s, t); undoing the map [u v] / asked gives
  // the upper triangular correction, up to a rotation of the whole sheet, which cuts nothing wrong.
  const double s = (diagonal * diagonal - a * a - b * b) / (2 * a);
  const double t = std::sqrt(b * b - s * s);
  const Calibration c{.scale_x = asked / a, .scale_y = asked / t, .skew = -asked * s / (a * t)};
  const bool small = std::abs(c.scale_x - 1) <= kMostCorrection &&
                     std::abs(c.scale_y - 1) <= kMostCorrection &&
                     std::abs(c.skew) <= kMostCorrection;
  if (!small) {
    return fail(ErrorCode::invalid_input,
                format("the test square is off by more than {:g} %", 100 * kMostCorrection),
                "calibration", "Check the units and the machine before correcting it here");
  }
  return c;
}

}  // namespace film::cutting
