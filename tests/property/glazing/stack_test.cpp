#include "glazing/stack.h"

#include <numeric>

#include <gtest/gtest.h>

#include "base/rng.h"

namespace film::glazing {
namespace {

// Any optics that could exist: shares of each side add up to at most 1, the faces reflect at least
// what their index asks, and transmittance is the same both ways (reciprocity).
SheetOptics random_sheet(Rng& rng) {
  const double index = rng.uniform(1.3, 1.8);
  const double rf = rng.uniform(0, 0.9);
  const double rb = rng.uniform(0, 0.9);
  const double t = rng.uniform() * (1 - std::max(rf, rb));
  const Optics inside{t, rf, t, rb};
  const Optics sheet = combined(combined(boundary(1, index), inside), boundary(index, 1));
  return {sheet, index, index, false, {}, 0};
}

TEST(Stacks, NoLightIsLostOrMade) {
  Rng rng(41);
  double worst = 0;
  for (int k = 0; k < 100'000; ++k) {
    std::vector<SheetOptics> sheets;
    std::vector<Joint> joints;
    const std::size_t count = 1 + rng.below(5);
    for (std::size_t i = 0; i < count; ++i) {
      sheets.push_back(random_sheet(rng));
      if (i > 0) {
        joints.push_back({rng.below(2) == 0 ? Joint::Kind::air : Joint::Kind::bonded, 0.17});
      }
    }
    const StackOptics result = stacked(sheets, joints);
    const double sum = result.total.transmit_front + result.total.reflect_front +
                       std::accumulate(result.absorbed.begin(), result.absorbed.end(), 0.0);
    worst = std::max(worst, std::abs(sum - 1));
    for (const double absorbed : result.absorbed) ASSERT_GE(absorbed, -1e-12) << "case " << k;
    ASSERT_TRUE(result.total.is_physical()) << "case " << k;
    ASSERT_NEAR(result.total.transmit_front, result.total.transmit_back, 1e-12) << "case " << k;
  }
  EXPECT_LT(worst, 1e-12);
}

TEST(Stacks, TurnedRoundTheyShowTheirOtherSide) {
  Rng rng(42);
  for (int k = 0; k < 1000; ++k) {
    const SheetOptics a = random_sheet(rng);
    const SheetOptics b = random_sheet(rng);
    SheetOptics a_turned = a;
    SheetOptics b_turned = b;
    a_turned.measured = turned(a.measured);
    b_turned.measured = turned(b.measured);
    const std::vector<Joint> joints{{Joint::Kind::bonded, 0}};
    const Optics ahead = stacked({a, b}, joints).total;
    const Optics behind = turned(stacked({b_turned, a_turned}, joints).total);
    ASSERT_NEAR(ahead.transmit_front, behind.transmit_front, 1e-12);
    ASSERT_NEAR(ahead.reflect_front, behind.reflect_front, 1e-12);
    ASSERT_NEAR(ahead.reflect_back, behind.reflect_back, 1e-12);
  }
}

}  // namespace
}  // namespace film::glazing
