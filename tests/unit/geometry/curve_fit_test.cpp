#include "geometry/curve_fit.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "geometry/simplify.h"

namespace film {
namespace {

constexpr double kPi = std::numbers::pi;

double distance_to_ring(Vec2 p, const Ring& ring) {
  double nearest = 1e300;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    nearest = std::min(nearest, distance_to_segment(p, ring[i], ring[(i + 1) % ring.size()]));
  }
  return nearest;
}

/// Largest distance between two rings, by brute force.
double apart(const Ring& a, const Ring& b) {
  double worst = 0;
  for (const Vec2 p : a) worst = std::max(worst, distance_to_ring(p, b));
  for (const Vec2 p : b) worst = std::max(worst, distance_to_ring(p, a));
  return worst;
}

/// A wavy ring with a little noise; `corners` receives nothing.
Ring wavy(Rng& rng, double noise) {
  const double a = rng.uniform(0, 0.2), b = rng.uniform(0, 0.06), turn = rng.uniform(0, 6);
  Ring ring;
  for (int i = 0; i < 1500; ++i) {
    const double t = 2 * kPi * i / 1500;
    const double r =
        240 * (1 + a * std::sin(3 * t + turn) + b * std::cos(8 * t)) + rng.uniform(-noise, noise);
    ring.push_back({1.6 * r * std::cos(t), r * std::sin(t)});
  }
  return ring;
}

TEST(FitCurves, NeverLeavesTheToleranceAndNeedsFewCurves) {
  Rng rng(5);
  for (int round = 0; round < 4; ++round) {
    const Ring ring = wavy(rng, 0.03);
    for (const double tolerance : {0.08, 0.2, 1.0}) {
      const CurveFit fit = fit_curves(ring, {}, tolerance);
      EXPECT_LE(fit.worst, tolerance);
      EXPECT_LE(apart(ring, flattened(fit.path, 1e-3)), tolerance + 2e-3);
      EXPECT_LT(10 * fit.path.cubics.size(), ring.size());
    }
  }
}

TEST(FitCurves, ACircleTakesTheCurvesItIsKnownToTake) {
  // Four cubics are within 0.000273 of the radius (T. Dokken et al., "Good approximation of
  // circles by curvature-continuous Bezier curves", CAGD 7, 1990); so few follow for 0.1 mm.
  Ring circle;
  for (int i = 0; i < 720; ++i) {
    circle.push_back({200 * std::cos(i * kPi / 360), 200 * std::sin(i * kPi / 360)});
  }
  const CurveFit fit = fit_curves(circle, {}, 0.1);
  EXPECT_LE(fit.path.cubics.size(), 6u);
  EXPECT_LE(apart(circle, flattened(fit.path, 1e-3)), 0.102);
}

TEST(FitCurves, KeepsCornersExactlyAndStraightSidesStraight) {
  Ring ring;
  const Vec2 corners[] = {{0, 0}, {400, 0}, {400, 150}, {0, 150}};
  std::vector<std::size_t> at;
  for (std::size_t s = 0; s < 4; ++s) {
    at.push_back(ring.size());
    for (int k = 0; k < 100; ++k) {
      ring.push_back(corners[s] + (k / 100.0) * (corners[(s + 1) % 4] - corners[s]));
    }
  }
  const CurveFit fit = fit_curves(ring, at, 0.1);
  ASSERT_EQ(fit.path.cubics.size(), 4u);
  EXPECT_EQ(flattened(fit.path, 0.01), Ring(std::begin(corners), std::end(corners)));
  for (const auto& cubic : fit.path.cubics) EXPECT_TRUE(cubic.straight);
}

TEST(FitCurves, TurnsWithoutCornersElsewhere) {
  Rng rng(9);
  const CurveFit fit = fit_curves(wavy(rng, 0.02), {}, 0.15);
  const auto& cubics = fit.path.cubics;
  for (std::size_t i = 0; i < cubics.size(); ++i) {
    const auto& next = cubics[(i + 1) % cubics.size()];
    const Vec2 in = cubics[i].end - cubics[i].p2;
    const Vec2 out = next.p1 - cubics[i].end;
    EXPECT_NEAR(std::atan2(cross(in, out), dot(in, out)), 0, 0.02) << i;
  }
}

TEST(FitCurves, TakesAnyRing) {
  Rng rng(11);
  for (int round = 0; round < 200; ++round) {
    Ring ring;
    const std::size_t count = 3 + rng.below(30);
    for (std::size_t i = 0; i < count; ++i) {
      ring.push_back({rng.uniform(-10, 10), rng.uniform(-10, 10)});
    }
    std::vector<std::size_t> corners;
    for (std::size_t i = 0; i < count; ++i) {
      if (rng.below(4) == 0) corners.push_back(i);
    }
    const CurveFit fit = fit_curves(ring, corners, 0.5);
    EXPECT_GE(fit.path.cubics.size(), 2u);
    EXPECT_LE(apart(ring, flattened(fit.path, 1e-3)), 0.51) << round;
    for (const std::size_t c : corners) {
      EXPECT_LT(distance_to_ring(ring[c], flattened(fit.path, 1e-3)), 1e-9);
    }
  }
}

}  // namespace
}  // namespace film
