#include "surface/detail/energy.h"

#include <gtest/gtest.h>

#include "base/rng.h"

namespace film::surface::detail {
namespace {

Mat2 random_map(Rng& rng) {
  Mat2 j;
  do {
    j << rng.uniform(0.7, 1.3), rng.uniform(-0.3, 0.3), rng.uniform(-0.3, 0.3),
        rng.uniform(0.7, 1.3);
  } while (j(0, 0) * j(1, 1) - j(0, 1) * j(1, 0) < 0.3);
  return j;
}

/// The slope by central differences: what a derivative is.
Mat2 slope_of(const Energy& energy, const Mat2& j) {
  constexpr double kStep = 1e-6;
  Mat2 slope;
  for (Eigen::Index k = 0; k < 4; ++k) {
    Mat2 up = j;
    Mat2 down = j;
    up.data()[k] += kStep;
    down.data()[k] -= kStep;
    slope.data()[k] = (energy.value(up) - energy.value(down)) / (2 * kStep);
  }
  return slope;
}

void expect_slopes(const Energy& energy) {
  Rng rng(7);
  for (int i = 0; i < 200; ++i) {
    const Mat2 j = random_map(rng);
    const Mat2 slope = slope_of(energy, j);
    const double scale = 1 + slope.norm();
    EXPECT_LT((energy.gradient(j) - slope).norm(), 2e-6 * scale);
    EXPECT_LT((energy.derive(j).gradient - slope).norm(), 2e-6 * scale);
  }
}

TEST(Energy, EverySlopeIsTheDifferenceQuotient) {
  expect_slopes(SymmetricDirichlet());
  expect_slopes(PowerBound(6, 0.1, 0.2));
  FilmProperties film;
  expect_slopes(FilmEnergy(film));
  film.stiffness_ratio = 1.4;
  film.tension_limit_along = 0.02;
  expect_slopes(FilmEnergy(film));
}

TEST(Energy, FilmThatIsTheSameBothWaysHasOneHessianByEitherWay) {
  // A ratio a hair from 1 takes the general way, by forward differentiation.
  FilmProperties film;
  film.squeeze_cost = 1;
  const FilmEnergy quick(film);
  film.stiffness_ratio = 1 + 1e-12;
  const FilmEnergy general(film);
  Rng rng(11);
  for (int i = 0; i < 200; ++i) {
    const Mat2 j = random_map(rng);
    const Mat4 difference = quick.derive(j).hessian - general.derive(j).hessian;
    EXPECT_LT(difference.norm(), 1e-8 * (1 + general.derive(j).hessian.norm()));
  }
}

}  // namespace
}  // namespace film::surface::detail
