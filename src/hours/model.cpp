#include "hours/model.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace film::hours {
namespace {

using Real = Regression::Real;

constexpr std::array<std::string_view, kTerms> kNames{"piece",     "area",    "tuck",  "stretch",
                                                      "hand_trim", "relief",  "glass", "lamp",
                                                      "awkward",   "obstacle"};

}  // namespace

std::string_view name_of(Term term) { return kNames[static_cast<std::size_t>(term)]; }

std::optional<Term> term_of(std::string_view name) {
  const auto found = std::find(kNames.begin(), kNames.end(), name);
  if (found == kNames.end()) return std::nullopt;
  return static_cast<Term>(found - kNames.begin());
}

Result<void> check(const Belief& belief) {
  const auto refuse = [](std::string what, std::string field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what), "hours " + std::move(field),
                std::move(remedy));
  };
  for (std::size_t k = 0; k < kTerms; ++k) {
    if (!(belief.minutes[k] >= 0 && belief.minutes[k] <= 1000)) {
      return refuse(format("{} minutes", belief.minutes[k]), std::string(kNames[k]),
                    "Minutes for one unit are 0 to 1000.");
    }
  }
  if (belief.minutes.front() < 0.1) {
    return refuse("a piece that takes no time", "piece", "Give it a tenth of a minute at least.");
  }
  const auto is_share = [](double share) { return share > 0 && share <= 2; };
  if (!is_share(belief.doubt)) return refuse("a doubt out of range", "doubt", "Above 0, up to 2.");
  if (!is_share(belief.noise)) return refuse("a noise out of range", "noise", "Above 0, up to 2.");
  if (!is_share(belief.pace)) return refuse("a pace out of range", "pace", "Above 0, up to 2.");
  if (!(belief.noise_worth >= 1 && belief.noise_worth <= 1000)) {
    return refuse("a worth out of range", "noise_worth", "It is worth 1 to 1000 records.");
  }
  return {};
}

Interval Estimate::interval(double chance) const {
  return {std::max(0.0, minutes.quantile((1 - chance) / 2)),
          std::max(0.0, minutes.quantile((1 + chance) / 2))};
}

Model::Model(const Belief& belief) : belief_(belief), regression_(kTerms) {
  regression_.believe_noise(belief.noise, belief.noise_worth);
  for (std::size_t k = 0; k < kTerms; ++k) {
    // A term that is believed to cost nothing may turn out to cost something.
    const double spread = std::max(belief.doubt * belief.minutes[k], 0.05);
    regression_.believe(k, belief.minutes[k], spread / belief.noise);
  }
}

double Model::believed(const Amounts& amounts) const {
  double minutes = 0;
  for (std::size_t k = 0; k < kTerms; ++k) minutes += amounts[k] * belief_.minutes[k];
  return std::max(minutes, belief_.minutes.front());
}

void Model::learn(const Laid& laid) {
  if (!(laid.minutes > 0 && std::isfinite(laid.minutes))) return;
  const auto [entry, is_new] = installers_.try_emplace(laid.installer);
  Installer& installer = entry->second;
  if (is_new) {
    installer.term = regression_.terms();
    regression_.add_term();
    regression_.believe(installer.term, 0, belief_.pace / belief_.noise);
  }
  ++installer.records;
  ++records_;

  const Real size = believed(laid.amounts);
  std::vector<Real> row(regression_.terms(), 0);
  for (std::size_t k = 0; k < kTerms; ++k) row[k] = laid.amounts[k] / size;
  row[installer.term] = 1;
  regression_.learn(row, laid.minutes / size);
}

Estimate Model::estimate(std::span<const Amounts> pieces, std::string_view installer) const {
  std::vector<Real> row(regression_.terms(), 0);
  Real whole = 0;
  Real noise = 0;
  for (const Amounts& piece : pieces) {
    const Real size = believed(piece);
    for (std::size_t k = 0; k < kTerms; ++k) row[k] += piece[k];
    whole += size;
    noise += size * size;
  }
  if (const auto known = installers_.find(installer); known != installers_.end()) {
    row[known->second.term] = whole;
  } else {
    const Real unknown = whole * belief_.pace / belief_.noise;
    noise += unknown * unknown;
  }
  return {regression_.predict(row, noise)};
}

Amounts Model::minutes_per_unit() const {
  const std::vector<double> weights = regression_.coefficients();
  Amounts minutes{};
  std::copy_n(weights.begin(), kTerms, minutes.begin());
  return minutes;
}

std::map<std::string, Pace> Model::paces() const {
  const std::vector<double> weights = regression_.coefficients();
  const std::vector<double> errors = regression_.standard_errors();
  std::map<std::string, Pace> paces;
  for (const auto& [name, installer] : installers_) {
    paces[name] = {1 + weights[installer.term], errors[installer.term], installer.records};
  }
  return paces;
}

}  // namespace film::hours
