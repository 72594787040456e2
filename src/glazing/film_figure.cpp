#include "glazing/film_figure.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.h"
#include "glazing/stack.h"

namespace film::glazing {
namespace {

constexpr double kImpossible = 0.005;  // shares may miss 0 to 1 by a meter's error, not by more

SheetOptics sheet(const Optics& optics, double index) {
  return {optics, index, index, false, {}, 0};
}

Optics pair(const SheetOptics& glass, const SheetOptics& film) {
  return stacked({glass, film}, {{Joint::Kind::bonded, 0}}).total;
}

Failure no_such_film(double transmittance) {
  return fail(ErrorCode::invalid_input,
              format("no film on this glass lets {:.1f} % through", 100 * transmittance), "film",
              "Check the measurement, and on which glass it was taken");
}

bool could_be(const Optics& film) {
  const auto share = [](double v) {
    return std::isfinite(v) && v >= -kImpossible && v <= 1 + kImpossible;
  };
  return share(film.transmit_front) && share(film.reflect_front) && share(film.transmit_back) &&
         share(film.reflect_back) && share(film.absorb_front()) && share(film.absorb_back());
}

bool opaque(const Optics& glass) { return glass.transmit_front <= 0 || glass.transmit_back <= 0; }

// The glass letting more or less through; what it no longer passes it takes up.
KnownGlass shaded(KnownGlass glass, double by) {
  const auto change = [by](double& transmit, double reflect) {
    transmit = std::clamp(transmit + by, 1e-6, 1 - reflect);
  };
  change(glass.optics.transmit_front, glass.optics.reflect_front);
  change(glass.optics.transmit_back, glass.optics.reflect_back);
  return glass;
}

Result<double> moved_once(const FilmFigure& figure, double off, double index,
                          const KnownGlass& to) {
  Optics measured = symmetric(std::clamp(figure.transmittance + off, 0.0, 1 - figure.reflectance),
                              figure.reflectance);
  if (figure.measured_on) {
    // The inside of the pane is film in air; the print rarely says how much it mirrors.
    measured.reflect_back = std::max(figure.reflectance, fresnel_reflectance(1, index));
    measured.reflect_back = std::min(measured.reflect_back, 1 - measured.transmit_back);
    auto film = free_film(measured, *figure.measured_on, index);
    if (!film) return Failure(film.error());
    measured = *film;
  }
  return bonded(measured, index, to).transmit_front;
}

}  // namespace

Result<Optics> free_film(const Optics& total, const KnownGlass& glass, double film_index) {
  if (opaque(glass.optics)) {
    return fail(ErrorCode::invalid_input,
                "the glass lets nothing through, so the film on it is not known", "film",
                "Measure the film on clear glass");
  }
  SheetOptics on_glass = sheet(total, film_index);
  on_glass.on_reference = true;
  on_glass.reference = glass.optics;
  on_glass.reference_index = glass.index;
  const Optics film = standing_free(on_glass, film_index);
  if (!could_be(film)) return no_such_film(total.transmit_front);
  return film;
}

Optics bonded(const Optics& film, double film_index, const KnownGlass& glass) {
  return pair(sheet(glass.optics, glass.index), sheet(film, film_index));
}

Result<Optics> free_film_from_meter(double transmittance, const KnownGlass& glass,
                                    double film_index) {
  const auto passed = [&](double internal) {
    return bonded(clear_sheet(film_index, internal), film_index, glass).transmit_front;
  };
  if (!(transmittance >= 0) || opaque(glass.optics) || transmittance > passed(1) + kImpossible) {
    return no_such_film(transmittance);
  }
  double low = 0;
  double high = 1;
  for (int k = 0; k < 60; ++k) {  // halves 1 down to 1e-18
    const double middle = (low + high) / 2;
    (passed(middle) < transmittance ? low : high) = middle;
  }
  return clear_sheet(film_index, (low + high) / 2);
}

Result<Ranged> moved(const FilmFigure& figure, const KnownGlass& to, const MovingDoubts& doubts) {
  const auto middle = moved_once(figure, 0, doubts.film_index, to);
  if (!middle) return Failure(middle.error());
  Ranged range{*middle, *middle, *middle};
  for (const double off : {-figure.rounding, figure.rounding}) {
    for (const double index : {doubts.film_index_low, doubts.film_index, doubts.film_index_high}) {
      for (const double by : {-doubts.glass, doubts.glass}) {
        const auto corner = moved_once(figure, off, index, shaded(to, by));
        if (!corner) continue;  // a doubt that the figure itself rules out
        range.low = std::min(range.low, *corner);
        range.high = std::max(range.high, *corner);
      }
    }
  }
  return range;
}

}  // namespace film::glazing
