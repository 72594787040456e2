#include "glazing/glass_kind.h"

#include <cmath>

#include "base/text.h"

namespace film::glazing {
namespace {

double bell(double nm, double middle, double width) {
  const double x = (nm - middle) / width;
  return std::exp(-x * x);
}

double ultraviolet(double nm) { return 30 * std::exp(-(nm - 300) / 11); }

// The rise from 0 to 1 about `middle`.
double step(double nm, double middle, double width) {
  return 1 / (1 + std::exp(-(nm - middle) / width));
}

// How strongly the glass takes up light, to scale.
double shape(Tint tint, double nm) {
  switch (tint) {
    case Tint::green:  // iron: a broad band about 1080 nm, a weak one about 420
      return ultraviolet(nm) + 0.045 + bell(nm, 1080, 300) + 0.08 * bell(nm, 420, 40) +
             0.25 * step(nm, 1250, 150);
    case Tint::grey:  // cobalt and selenium with iron: nearly flat over what the eye sees
      return 0.35 * ultraviolet(nm) + 0.86 + 0.05 * bell(nm, 620, 90) - 0.2 * bell(nm, 720, 60) +
             0.12 * bell(nm, 1050, 300);
    case Tint::bronze:
      return 0.35 * ultraviolet(nm) + 0.72 + 0.38 * bell(nm, 480, 110) + bell(nm, 1080, 360);
    case Tint::neutral: return 1;
  }
  return 1;
}

SpectralOptics pane(Tint tint, double depth) {
  SpectralOptics spectrum;
  const auto add = [&](double nm) {
    spectrum.wavelengths.push_back(Nm{nm});
    spectrum.values.push_back(clear_sheet(1.52, std::exp(-depth * shape(tint, nm))));
  };
  for (double nm = 300; nm < 780; nm += 5) add(nm);
  for (double nm = 780; nm <= 2500; nm += 20) add(nm);
  return spectrum;
}

double visible(const SpectralOptics& spectrum) {
  std::vector<double> shares;
  for (const Nm nm : visible_weights().wavelengths)
    shares.push_back(spectrum.at(nm)->transmit_front);
  return average(visible_weights(), shares);
}

}  // namespace

Result<Sheet> glass_like(double share, Tint tint, std::string id) {
  const double clearest = visible(pane(tint, 0));
  if (!(share > 0 && share <= clearest)) {
    return fail(ErrorCode::invalid_input,
                format("no plain glass lets {:.1f} % of visible light through", 100 * share),
                "glass " + id, format("Give more than 0 and at most {:.1f} %.", 100 * clearest));
  }
  double low = 0;
  double high = 200;
  for (int k = 0; k < 60; ++k) {
    const double middle = (low + high) / 2;
    (visible(pane(tint, middle)) > share ? low : high) = middle;
  }
  Sheet sheet;
  sheet.id = std::move(id);
  sheet.optics = pane(tint, (low + high) / 2);
  return sheet;
}

}  // namespace film::glazing
