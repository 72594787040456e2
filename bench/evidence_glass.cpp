// Holds the glazing kernel against published examples and closed forms, and times it.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numeric>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "base/rng.h"
#include "base/text.h"
#include "exchange/limits_json.h"
#include "figure.h"
#include "glazing/film_figure.h"
#include "glazing/glass_kind.h"
#include "glazing/heat.h"
#include "glazing/match.h"
#include "glazing/stack.h"
#include "host/files.h"
#include "host/stop.h"

namespace {

using namespace film;
using namespace film::glazing;
using bench::say;

SpectralOptics clear_glass(const std::string& name) {
  SpectralOptics spectrum;
  auto bytes = host::read_file(FILM_SOURCE_DIR "/../shared/data/glazing/" + name);
  if (!bytes) return spectrum;
  std::istringstream lines(*bytes);
  std::string line;
  std::getline(lines, line);
  while (std::getline(lines, line)) {
    std::replace(line.begin(), line.end(), ',', ' ');
    std::istringstream row(line);
    double nm = 0, t = 0, rf = 0, rb = 0;
    row >> nm >> t >> rf >> rb;
    spectrum.wavelengths.push_back(Nm{nm});
    spectrum.values.push_back({t, rf, t, rb});
  }
  return spectrum;
}

void published_pair() {
  const Optics pair = combined({0.46, 0.52, 0.64, 0.22}, {0.56, 0.34, 0.49, 0.39});
  const double gap = std::max(
      {std::abs(pair.transmit_front - 0.278426286), std::abs(pair.reflect_front - 0.6281885),
       std::abs(pair.transmit_back - 0.33895374), std::abs(pair.reflect_back - 0.455248595)});
  say("two layers against the published example, largest difference", format("{:.1e}", gap),
      "below 1e-6", "LBNL Windows-CalcEngine, DoubleLayerSingleComponent", gap < 1e-6);
}

void published_integrator() {
  Sheet outer, inner;
  outer.id = "3 mm";
  inner.id = "6 mm";
  outer.optics = clear_glass("glass_generic_clear_3mm.csv");
  inner.optics = clear_glass("glass_generic_clear_6mm.csv");
  const Stack stack{{outer, inner}, {{Joint::Kind::air, 0.17}}};
  const BandWeights& solar = solar_weights();
  // As the example does: weights taken for a density, so that the step counts twice.
  const auto twice =
      average_of(stack, weights_of(SpectralDensity{"", "", solar.wavelengths, solar.weights}));
  const auto once = average_of(stack, solar);
  if (!twice || !once) return;
  const StackOptics& o = twice->optics;
  const double gap = std::max(
      {std::abs(o.total.transmit_front - 0.621741), std::abs(o.total.reflect_front - 0.119697),
       std::abs(o.total.reflect_back - 0.110757), std::abs(o.absorbed[0] - 0.113512),
       std::abs(o.absorbed[1] - 0.145050)});
  say("integrator against the published example, largest difference", format("{:.1e}", gap),
      "below 1e-6", "LBNL Windows-CalcEngine, MultiPaneSpecular_102_103_EN410", gap < 1e-6);
  say("the same stack with the weights as they are meant",
      format("{:.6f}", once->optics.total.transmit_front), "0.662229",
      "plain sum of the same table", std::abs(once->optics.total.transmit_front - 0.662229) < 1e-6);
}

SheetOptics random_sheet(Rng& rng) {
  const double index = rng.uniform(1.3, 1.8);
  const double rf = rng.uniform(0, 0.9);
  const double rb = rng.uniform(0, 0.9);
  const double t = rng.uniform() * (1 - std::max(rf, rb));
  const Optics faces = combined(combined(boundary(1, index), {t, rf, t, rb}), boundary(index, 1));
  return {faces, index, index, false, {}, 0};
}

void energy_and_speed() {
  Rng rng(9);
  std::vector<std::vector<SheetOptics>> stacks;
  std::vector<std::vector<Joint>> joints;
  for (int k = 0; k < 100'000; ++k) {
    std::vector<SheetOptics> sheets;
    std::vector<Joint> between;
    for (std::size_t i = 0; i < 2 + rng.below(2); ++i) {
      sheets.push_back(random_sheet(rng));
      if (i > 0) between.push_back({i == 1 ? Joint::Kind::bonded : Joint::Kind::air, 0.17});
    }
    stacks.push_back(std::move(sheets));
    joints.push_back(std::move(between));
  }
  double worst = 0;
  const host::Stopwatch watch;
  for (std::size_t k = 0; k < stacks.size(); ++k) {
    const StackOptics o = stacked(stacks[k], joints[k]);
    worst =
        std::max(worst, std::abs(o.total.transmit_front + o.total.reflect_front +
                                 std::accumulate(o.absorbed.begin(), o.absorbed.end(), 0.0) - 1));
  }
  const double per_ms = static_cast<double>(stacks.size()) / (1000 * watch.seconds());
  say("energy lost or made, 100000 random stacks", format("{:.1e}", worst), "below 1e-12",
      "T + R + A = 1", worst < 1e-12);
  say("banded stacks of two or three sheets a millisecond", format("{:.0f}", per_ms),
      "at least 1000", "one thread", per_ms >= 1000);
}

void product_against_bond() {
  const Optics glass = clear_sheet(1.52, 0.975);
  for (const double internal : {1.0, 0.7, 0.35, 0.05}) {
    const Optics film = clear_sheet(1.64, internal);
    const SheetOptics a{glass, 1.52, 1.52, false, {}, 0};
    const SheetOptics b{film, 1.64, 1.64, false, {}, 0};
    const double right = stacked({a, b}, {{Joint::Kind::bonded, 0}}).total.transmit_front;
    const double product = glass.transmit_front * film.transmit_front;
    say(format("clear glass with a film of {:.0f} % free transmittance: bonded against product",
               100 * film.transmit_front),
        format("{:.2f} % against {:.2f} %", 100 * right, 100 * product), "reported",
        "docs/algorithms/glazing.md", std::nullopt);
  }
}

void film_out_of_a_total() {
  Rng rng(77);
  double worst = 0;
  for (int k = 0; k < 10'000; ++k) {
    const double index = rng.uniform(1.45, 1.70);
    const KnownGlass glass{clear_sheet(1.52, rng.uniform(0.2, 1.0)), 1.52};
    const double rf = rng.uniform(0, 0.5);
    const double rb = rng.uniform(0, 0.5);
    const double t = rng.uniform(0.02, 1) * (1 - std::max(rf, rb));
    const Optics film =
        combined(combined(boundary(1, index), Optics{t, rf, t, rb}), boundary(index, 1));
    const auto back = free_film(bonded(film, index, glass), glass, index);
    const auto metered = free_film_from_meter(
        bonded(clear_sheet(index, t), index, glass).transmit_front, glass, index);
    if (!back || !metered) {
      worst = 1;
      continue;
    }
    worst = std::max({worst, std::abs(back->transmit_front - film.transmit_front),
                      std::abs(back->reflect_front - film.reflect_front),
                      std::abs(metered->transmit_front - clear_sheet(index, t).transmit_front)});
  }
  say("a film out of a total on known glass, 10000 random cases, worst",
      format("{:.1e} points", 100 * worst), "0.05 points", "round trip through the bond",
      100 * worst < 0.05);
}

void bonded_limits() {
  const Optics glass = clear_sheet(1.52, 0.9);
  const SheetOptics pane{glass, 1.52, 1.52, false, {}, 0};
  const std::vector<Joint> bond{{Joint::Kind::bonded, 0}};
  const auto with = [&](double internal) {
    return stacked({pane, {clear_sheet(1.52, internal), 1.52, 1.52, false, {}, 0}}, bond).total;
  };
  const double nothing = std::abs(with(1).transmit_front - glass.transmit_front);
  const double matched =
      std::abs(with(0.4).transmit_front - clear_sheet(1.52, 0.36).transmit_front);
  const double opaque = with(0).transmit_front;
  const double worst = std::max({nothing, matched, opaque});
  say("bonded film: nothing, perfect absorber, index-matched slab, worst", format("{:.1e}", worst),
      "below 1e-12", "closed forms (Fresnel, slab)", worst < 1e-12);
}

void places() {
  const auto bytes = host::read_file(FILM_SOURCE_DIR "/data/limits/limits.json");
  if (!bytes) return;
  const auto tables = exchange::read_limits(*bytes);
  if (!tables) return;
  std::set<std::string> all, read;
  std::size_t wrong = 0;
  for (const auto& row : tables->windows) {
    all.insert(row.place);
    if (row.confidence == Confidence::read) read.insert(row.place);
    for (int k = 0; k <= 100; ++k) {
      const double v = 0.01 * k;
      const bool yes =
          judge({row}, row.place, row.position, {{v, v, v}, 0.0}).verdict == Verdict::allowed;
      if (yes && row.confidence != Confidence::read) ++wrong;
    }
  }
  say("places in the table of limits; of them with a row whose text was read",
      format("{}; {}", all.size(), read.size()), "at least 25", "data/limits/limits.json",
      all.size() >= 25);
  say("rows not read that ever say allowed", format("{}", wrong), "0",
      "all rows at every whole percent", wrong == 0);
}

void infrared_is_not_heat() {
  SpectralOptics spectrum;
  for (int nm = 300; nm <= 2500; nm += 5) {
    const double t = nm < 380 ? 0.01 : nm < 780 ? 0.70 : 0.05;
    spectrum.wavelengths.push_back(Nm{static_cast<double>(nm)});
    spectrum.values.push_back(symmetric(t, 0.05));
  }
  Sheet film;
  film.id = "film";
  film.optics = spectrum;
  const Stack alone{{film}, {}};
  const auto solar = average_of(alone, solar_weights());
  if (!solar) return;
  const HeatGain heat = heat_gain(solar->optics, {}, stationary());
  say("a film that stops 95 % of the infrared and passes 70 % of the visible keeps out",
      format("{:.0f} % of the heat", 100 * heat.rejected), "reported", "he 23, hi 8", std::nullopt);
}

}  // namespace

int main() {
  published_pair();
  published_integrator();
  energy_and_speed();
  bonded_limits();
  film_out_of_a_total();
  product_against_bond();
  infrared_is_not_heat();
  places();
  return 0;
}
