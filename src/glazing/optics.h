#pragma once

#include <cmath>

namespace film::glazing {

/// How light of one wavelength (or one band) meets a layer, as shares of the light that arrives
/// from the front (outside) and from the back (inside). Reflections are counted, not phases:
/// layers are thicker than light is coherent.
struct Optics {
  double transmit_front = 1;
  double reflect_front = 0;
  double transmit_back = 1;
  double reflect_back = 0;

  /// Shares taken up and turned to heat.
  [[nodiscard]] double absorb_front() const { return 1 - transmit_front - reflect_front; }
  [[nodiscard]] double absorb_back() const { return 1 - transmit_back - reflect_back; }
  /// Every share lies between 0 and 1, within rounding.
  [[nodiscard]] bool is_physical() const;

  friend bool operator==(const Optics&, const Optics&) = default;
};

/// A layer that looks the same from both sides.
constexpr Optics symmetric(double transmit, double reflect) {
  return {transmit, reflect, transmit, reflect};
}

/// The layer turned round.
constexpr Optics turned(const Optics& layer) {
  return {layer.transmit_back, layer.reflect_back, layer.transmit_front, layer.reflect_front};
}

/// Two layers, all reflections between them counted. Two perfect mirrors facing each other let
/// nothing through.
/// Source: the geometric series of back-and-forth reflections, e.g. EN 410, annex on multiple
/// glazing. Held against the worked example of LBNL's Windows-CalcEngine in the tests.
Optics combined(const Optics& front, const Optics& back);

/// The back layer when the pair and the front layer are known: the inverse of `combined`. The
/// front must let some light through both ways.
Optics without_front(const Optics& pair, const Optics& front);
/// The front layer when the pair and the back layer are known.
Optics without_back(const Optics& pair, const Optics& back);

/// The reflectance of a clean boundary between two transparent media at right angle:
/// ((n1 - n2) / (n1 + n2))^2. Source: Fresnel; textbook.
constexpr double fresnel_reflectance(double index_a, double index_b) {
  const double ratio = (index_a - index_b) / (index_a + index_b);
  return ratio * ratio;
}

/// That boundary as a layer: it takes up nothing.
constexpr Optics boundary(double index_a, double index_b) {
  const double r = fresnel_reflectance(index_a, index_b);
  return symmetric(1 - r, r);
}

/// A sheet of clear material between two boundaries with air: `internal` is the share that one
/// crossing of the material lets through.
Optics clear_sheet(double index, double internal);

}  // namespace film::glazing
