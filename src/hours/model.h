#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "hours/regression.h"

namespace film::hours {

/// What takes time when a piece is laid.
enum class Term {
  piece,      ///< each piece: fetch, wet, place
  area,       ///< m^2 laid and squeezed out
  tuck,       ///< m of edge that is folded round
  stretch,    ///< m^2 x per cent by which the tightest place is stretched
  hand_trim,  ///< m of edge that is trimmed by hand on the vehicle
  relief,     ///< relief cuts and folds that must be worked out
  glass,      ///< m^2 that is shrunk to a window first
  lamp,       ///< m^2 on lamps
  awkward,    ///< m^2 overhead or at the floor
  obstacle,   ///< badges and sensors to work round
};
constexpr std::size_t kTerms = 10;

/// "tuck"; stable, as it stands in settings and JSON.
std::string_view name_of(Term term);
std::optional<Term> term_of(std::string_view name);

/// How much of each term there is, or minutes for one unit of each.
using Amounts = std::array<double, kTerms>;

/// What the shop believes before it has records.
struct Belief {
  /// Minutes for one unit of each term, at the shop's usual pace.
  Amounts minutes{4, 14, 5, 0.8, 6, 2.5, 12, 15, 6, 6};
  double doubt = 0.4;      ///< standard deviation of each, as a share of it
  double noise = 0.2;      ///< standard deviation of one piece's time, as a share of it
  double noise_worth = 8;  ///< how many records that figure is worth
  double pace = 0.15;      ///< standard deviation between installers, as a share

  friend bool operator==(const Belief&, const Belief&) = default;
};

/// Errors: invalid_input naming the field (minutes not in 0 to 1000 or none for a piece, shares not
/// above 0 and at most 2, a worth not in 1 to 1000).
Result<void> check(const Belief& belief);

/// One piece that was laid, and how long that took.
struct Laid {
  std::string installer;
  Amounts amounts{};
  double minutes = 0;
};

/// An interval that the time will be in with the chance that was asked for.
struct Interval {
  double low = 0;
  double high = 0;
};

/// Minutes that work will take.
struct Estimate {
  Prediction minutes;

  /// The central interval; never below zero. 0 < chance < 1.
  [[nodiscard]] Interval interval(double chance) const;
};

/// How an installer compares with the shop's usual pace: 1.1 takes a tenth longer.
struct Pace {
  double factor = 1;
  double error = 0;  ///< one standard deviation
  std::size_t records = 0;
};

/// How long it takes to lay pieces: a Bayesian linear model that starts from what the shop believes
/// and learns from what was recorded, for the shop and for each installer.
///
/// minutes = sum of term_k x w_k + believed x pace(installer) + error; the error's standard
/// deviation grows with `believed`, the minutes by the shop's belief. Divided by `believed` this is
/// an ordinary linear regression, so what it predicts is exactly Student's t.
/// An installer without records, or none named, brings the doubt about a new installer's pace.
/// Cost: O((terms + installers)^2) for a record or an estimate.
class Model {
 public:
  /// `belief` passes check.
  explicit Model(const Belief& belief);

  /// A record whose minutes are not positive and finite teaches nothing and is left out.
  void learn(const Laid& laid);

  /// The time for all the pieces together, laid by one person (empty: by whoever).
  [[nodiscard]] Estimate estimate(std::span<const Amounts> pieces,
                                  std::string_view installer) const;

  [[nodiscard]] Amounts minutes_per_unit() const;  ///< as learnt so far
  [[nodiscard]] std::map<std::string, Pace> paces() const;
  [[nodiscard]] std::size_t records() const { return records_; }
  /// Standard deviation of one piece's time as a share of it, as learnt so far.
  [[nodiscard]] double noise() const { return regression_.residual_deviation(); }

 private:
  struct Installer {
    std::size_t term = 0;
    std::size_t records = 0;
  };

  [[nodiscard]] double believed(const Amounts& amounts) const;

  Belief belief_;
  Regression regression_;
  std::map<std::string, Installer, std::less<>> installers_;
  std::size_t records_ = 0;
};

}  // namespace film::hours
