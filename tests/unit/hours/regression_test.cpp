#include "hours/regression.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "hours/student.h"
#include "strd.h"

namespace film::hours {
namespace {

TEST(Regression, AgreesWithNistToNineDigits) {
  for (const strd::DataSet& set : strd::all()) {
    SCOPED_TRACE(set.name);
    const Regression regression = strd::fit(set);
    ASSERT_TRUE(regression.is_settled());
    const std::vector<double> coefficients = regression.coefficients();
    const std::vector<double> errors = regression.standard_errors();
    for (std::size_t k = 0; k < set.coefficients.size(); ++k) {
      EXPECT_GE(strd::digits(coefficients[k], set.coefficients[k]), 9) << "coefficient " << k;
      EXPECT_GE(strd::digits(errors[k], set.errors[k]), 9) << "error " << k;
    }
    EXPECT_GE(strd::digits(regression.residual_deviation(), set.residual_deviation), 9);
    EXPECT_GE(strd::digits(strd::r_squared(set, regression), set.r_squared), 9);
  }
}

TEST(Regression, DoesNotMindTheOrderOfRows) {
  strd::DataSet set = strd::longley();
  const std::vector<double> forward = strd::fit(set).coefficients();
  std::reverse(set.y.begin(), set.y.end());
  std::reverse(set.x.begin(), set.x.end());
  const std::vector<double> backward = strd::fit(set).coefficients();
  for (std::size_t k = 0; k < forward.size(); ++k) {
    EXPECT_NEAR(forward[k], backward[k], 1e-10 * std::abs(forward[k]));
  }
}

// One mean under a normal-inverse-gamma prior has a closed form (Gelman et al., section 3.3):
// k_n = k_0 + n, m_n = (k_0 m_0 + n y) / k_n, v_n = v_0 + n,
// v_n s_n^2 = v_0 s_0^2 + (n - 1) s^2 + k_0 n (y - m_0)^2 / k_n; the next one is t with scale
// s_n sqrt(1 + 1 / k_n).
TEST(Regression, WithBeliefsIsTheClosedFormOfOneMean) {
  Regression regression(1);
  const double k0 = 4;
  regression.believe(0, 10, 1 / std::sqrt(k0));
  regression.believe_noise(2, 5);
  const std::vector<double> seen{12, 15, 11, 14};
  for (const double y : seen) {
    const std::vector<Regression::Real> one{1};
    regression.learn(one, y);
  }
  // Mean 13, (n - 1) s^2 = 1 + 4 + 4 + 1 = 10, k_n 8, v_n 9: m_n = (40 + 52) / 8 = 11.5,
  // v_n s_n^2 = 20 + 10 + 16 x 9 / 8 = 48.
  EXPECT_NEAR(regression.coefficients().front(), 11.5, 1e-14);
  EXPECT_NEAR(regression.degrees(), 9, 1e-14);
  EXPECT_NEAR(regression.residual_sum(), 48, 1e-12);
  const std::vector<Regression::Real> one{1};
  const Prediction next = regression.predict(one);
  EXPECT_NEAR(next.mean, 11.5, 1e-14);
  EXPECT_NEAR(next.scale, std::sqrt(48.0 / 9 * (1 + 1.0 / 8)), 1e-13);
}

TEST(Regression, ATermAddedLaterIsAsOneThereFromTheStart) {
  Rng rng(7);
  Regression early(2);
  Regression late(1);
  early.believe(0, 1, 2);
  early.believe(1, 3, 0.5);
  late.believe(0, 1, 2);
  for (int i = 0; i < 5; ++i) {
    const Regression::Real x = rng.uniform();
    const Regression::Real y = rng.uniform();
    early.learn(std::vector<Regression::Real>{x, 0}, y);
    late.learn(std::vector<Regression::Real>{x}, y);
  }
  late.add_term();
  late.believe(1, 3, 0.5);
  const std::vector<Regression::Real> row{0.3L, 0.7L};
  early.learn(row, 1);
  late.learn(row, 1);
  EXPECT_NEAR(early.coefficients()[1], late.coefficients()[1], 1e-14);
  EXPECT_NEAR(early.residual_sum(), late.residual_sum(), 1e-14);
}

TEST(Regression, KnowsWhenItCannotAnswer) {
  Regression regression(2);
  EXPECT_FALSE(regression.is_settled());
  for (int i = 0; i < 4; ++i) regression.learn(std::vector<Regression::Real>{1, 0}, i);
  EXPECT_FALSE(regression.is_settled());  // nothing was seen of the second term
  regression.learn(std::vector<Regression::Real>{0, 1}, 1);
  EXPECT_TRUE(regression.is_settled());
}

// Tables of Student's t; the first two have closed forms: tan(0.45 pi) and
// 0.9 sqrt(2 / (1 - 0.81)). The others from memory of Abramowitz and Stegun, table 26.10.
TEST(Student, QuantilesAreThoseOfTheTables) {
  EXPECT_NEAR(student_quantile(0.95, 1), std::tan(0.45 * std::acos(-1.0)), 1e-10);
  EXPECT_NEAR(student_quantile(0.95, 2), 0.9 * std::sqrt(2 / (1 - 0.81)), 1e-11);
  EXPECT_NEAR(student_quantile(0.975, 5), 2.571, 5e-4);
  EXPECT_NEAR(student_quantile(0.95, 10), 1.812, 5e-4);
  EXPECT_NEAR(student_quantile(0.995, 30), 2.750, 5e-4);
  // Close to the normal z = 1.644853627: z + (z^3 + z) / (4 n), same book, 26.7.5.
  EXPECT_NEAR(student_quantile(0.95, 1e6), 1.644853627 + 6.095007e-6 / 4, 1e-9);
  EXPECT_EQ(student_quantile(0.5, 3), 0);
  EXPECT_EQ(student_quantile(0.05, 7), -student_quantile(0.95, 7));
}

TEST(Student, TheChanceBelowAQuantileIsItsChance) {
  for (const double degrees : {0.7, 1.0, 3.5, 12.0, 400.0}) {
    for (const double chance : {0.001, 0.05, 0.3, 0.6, 0.95, 0.9999}) {
      EXPECT_NEAR(student_below(student_quantile(chance, degrees), degrees), chance, 1e-11);
    }
  }
}

}  // namespace
}  // namespace film::hours
