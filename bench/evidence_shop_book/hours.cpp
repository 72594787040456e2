#include "evidence_shop_book/hours.h"

#include <algorithm>

#include "base/text.h"
#include "figure.h"
#include "unit/hours/strd.h"
#include "unit/hours/synthetic_shop.h"

namespace film::bench {
namespace {

void measure_regression() {
  constexpr double kTarget = 9;
  for (const strd::DataSet& set : strd::all()) {
    const hours::Regression regression = strd::fit(set);
    const std::vector<double> coefficients = regression.coefficients();
    const std::vector<double> errors = regression.standard_errors();
    double least = strd::digits(regression.residual_deviation(), set.residual_deviation);
    least = std::min(least, strd::digits(strd::r_squared(set, regression), set.r_squared));
    for (std::size_t k = 0; k < coefficients.size(); ++k) {
      least = std::min(least, strd::digits(coefficients[k], set.coefficients[k]));
      least = std::min(least, strd::digits(errors[k], set.errors[k]));
    }
    say(format("hours: regression on {}, digits in which the worst of coefficients, their errors, "
               "residual deviation and R-squared agrees",
               set.name),
        format("{:.1f}", least), ">= 9",
        "NIST Statistical Reference Datasets, linear regression, certified values",
        least >= kTarget);
  }
}

void measure_intervals() {
  constexpr int kShops = 2000;
  using synthetic::Scatter;
  for (const Scatter scatter : {Scatter::even, Scatter::skewed}) {
    for (const int records : {20, 60, 200}) {
      for (const int pieces : {1, 90}) {
        const double share = synthetic::coverage(scatter, records, pieces, kShops, 100'000);
        say(format("hours: times within the 90 % interval, {} records, {}, {} scatter", records,
                   pieces == 1 ? "one piece" : format("{} pieces together", pieces),
                   scatter == Scatter::even ? "even" : "skewed"),
            format("{:.1f} %", 100 * share), "88 to 92 %",
            format("{} generated shops of known truth (tests/unit/hours/synthetic_shop.h)", kShops),
            share >= 0.88 && share <= 0.92);
      }
    }
  }
}

}  // namespace

void measure_hours() {
  measure_regression();
  measure_intervals();
}

}  // namespace film::bench
