#pragma once

#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "base/rng.h"
#include "hours/model.h"

/// Shops of which the truth is known: how long pieces really take there, and how people differ.
namespace film::synthetic {

/// How a piece's real time scatters about what it should take.
enum class Scatter {
  even,    ///< normal, in proportion to what the shop believed: what the model assumes
  skewed,  ///< log-normal, in proportion to the real time: as people work
};

inline double normal(Rng& rng) {
  const double radius = std::sqrt(-2 * std::log(1 - rng.uniform()));
  return radius * std::cos(2 * std::numbers::pi * rng.uniform());
}

class Shop {
 public:
  /// The real minutes per unit, paces and scatter are drawn from what the shop believes: exactly as
  /// the model has it where the scatter is even, else with doubts that do not go with the scatter.
  Shop(std::uint64_t seed, Scatter scatter, const hours::Belief& belief = {})
      : belief_(belief), scatter_(scatter), rng_(seed) {
    // Scaled inverse chi-square with the worth as its degrees: what believe_noise says.
    double squares = 0;
    for (int i = 0; i < static_cast<int>(belief.noise_worth); ++i) {
      squares += std::pow(normal(rng_), 2);
    }
    noise_ = belief.noise * std::sqrt(belief.noise_worth / squares);
    const double wide = scatter == Scatter::even ? noise_ / belief.noise : 1;
    for (std::size_t k = 0; k < hours::kTerms; ++k) {
      truth_[k] = std::max(0.0, belief.minutes[k] * (1 + wide * belief.doubt * normal(rng_)));
    }
    for (double& pace : paces_) pace = wide * belief.pace * normal(rng_);
  }

  /// A piece such as vehicles have.
  hours::Amounts piece() {
    hours::Amounts amounts{};
    const double area = std::exp(rng_.uniform(std::log(0.02), std::log(2.2)));
    const double around = 4.4 * std::sqrt(area);
    set(amounts, hours::Term::piece, 1);
    set(amounts, hours::Term::area, area);
    const bool is_glass = rng_.uniform() < 0.1;
    const bool is_lamp = !is_glass && rng_.uniform() < 0.1;
    const bool by_hand = !is_glass && rng_.uniform() < 0.25;
    set(amounts, hours::Term::tuck, is_glass ? 0 : around * rng_.uniform(0.2, 0.9));
    set(amounts, hours::Term::stretch, area * rng_.uniform(0, 8));
    if (by_hand) set(amounts, hours::Term::hand_trim, around);
    if (is_glass) set(amounts, hours::Term::glass, area);
    if (is_lamp) set(amounts, hours::Term::lamp, area);
    set(amounts, hours::Term::relief, static_cast<double>(rng_.below(4)));
    if (rng_.uniform() < 0.3) set(amounts, hours::Term::awkward, area);
    if (rng_.uniform() < 0.2) set(amounts, hours::Term::obstacle, 1);
    return amounts;
  }

  /// What laying it takes this time. Installers are 0 to 3.
  double minutes(const hours::Amounts& amounts, std::size_t installer) {
    double real = 0;
    double believed = 0;
    for (std::size_t k = 0; k < hours::kTerms; ++k) {
      real += truth_[k] * amounts[k];
      believed += belief_.minutes[k] * amounts[k];
    }
    if (scatter_ == Scatter::even) {
      return real + believed * (paces_[installer] + noise_ * normal(rng_));
    }
    return real * std::exp(paces_[installer] + noise_ * normal(rng_) - noise_ * noise_ / 2);
  }

  hours::Laid record() {
    const std::size_t installer = rng_.below(paces_.size());
    const hours::Amounts amounts = piece();
    return {name(installer), amounts, minutes(amounts, installer)};
  }

  static std::string name(std::size_t installer) {
    return "installer " + std::to_string(installer);
  }
  [[nodiscard]] double pace(std::size_t installer) const { return paces_[installer]; }
  [[nodiscard]] const hours::Amounts& truth() const { return truth_; }
  Rng& rng() { return rng_; }

 private:
  static void set(hours::Amounts& amounts, hours::Term term, double amount) {
    amounts[static_cast<std::size_t>(term)] = amount;
  }

  hours::Belief belief_;
  Scatter scatter_;
  Rng rng_;
  hours::Amounts truth_{};
  std::array<double, 4> paces_{};
  double noise_ = 0;
};

/// Share of times that lay within the 90 % interval told beforehand, after `records` records, over
/// many shops; `pieces` laid by one installer are told as one time.
inline double coverage(Scatter scatter, int records, int pieces, int shops, std::uint64_t seed) {
  int inside = 0;
  int told = 0;
  for (int number = 0; number < shops; ++number) {
    Shop shop(seed + static_cast<std::uint64_t>(number), scatter);
    hours::Model model{hours::Belief{}};
    for (int i = 0; i < records; ++i) model.learn(shop.record());
    for (int trial = 0; trial < 5; ++trial, ++told) {
      const std::size_t installer = shop.rng().below(4);
      std::vector<hours::Amounts> work;
      double minutes = 0;
      for (int i = 0; i < pieces; ++i) {
        work.push_back(shop.piece());
        minutes += shop.minutes(work.back(), installer);
      }
      const hours::Interval interval = model.estimate(work, Shop::name(installer)).interval(0.9);
      if (interval.low <= minutes && minutes <= interval.high) ++inside;
    }
  }
  return static_cast<double>(inside) / told;
}

}  // namespace film::synthetic
