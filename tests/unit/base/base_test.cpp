#include <algorithm>
#include <array>
#include <numeric>
#include <vector>

#include <gtest/gtest.h>

#include "base/context.h"
#include "base/result.h"
#include "base/rng.h"
#include "base/units.h"

namespace film {
namespace {

using namespace literals;

// The inch is 25.4 mm exactly since the international yard and pound agreement of 1959.
TEST(Mm, InchesConvertExactly) {
  EXPECT_EQ(Mm::from_inches(60), 1524.0_mm);
  EXPECT_EQ((1524.0_mm).inches(), 60);
}

TEST(Angle, DegreesConvert) {
  EXPECT_DOUBLE_EQ((180.0_deg).radians, 3.14159265358979323846);
  EXPECT_DOUBLE_EQ(Angle{1}.degrees(), 57.295779513082320877);
}

TEST(Error, TellsWhereWhatAndTheRemedyInOneLine) {
  const Error error{ErrorCode::invalid_input, "vertex 9 is missing", "door.obj line 12",
                    "Export the mesh again"};
  EXPECT_EQ(error.message(), "door.obj line 12: vertex 9 is missing. Export the mesh again");
  EXPECT_EQ((Error{ErrorCode::io, "the disk is full", "", ""}).message(), "the disk is full");
}

TEST(Rng, SameSeedSameNumbersAndOtherSeedOthers) {
  Rng a(7), b(7), c(8);
  int same = 0;
  for (int i = 0; i < 100; ++i) {
    const auto x = a.next();
    EXPECT_EQ(x, b.next());
    same += x == c.next();
  }
  EXPECT_EQ(same, 0);
}

// Chi-square with 9 degrees of freedom: 27.88 is exceeded once in a thousand (any table of the
// distribution); the seed is fixed, so the test is not random.
TEST(Rng, BelowIsUniform) {
  Rng rng(1);
  std::array<double, 10> counts{};
  constexpr int kDraws = 100000;
  for (int i = 0; i < kDraws; ++i) ++counts.at(rng.below(10));
  double chi_square = 0;
  for (const double count : counts) chi_square += (count - 10000) * (count - 10000) / 10000;
  EXPECT_LT(chi_square, 27.88);
}

TEST(Rng, ShuffleKeepsEveryItem) {
  Rng rng(3);
  std::vector<int> items(50);
  std::iota(items.begin(), items.end(), 0);
  auto shuffled = items;
  rng.shuffle(shuffled);
  EXPECT_NE(shuffled, items);
  std::sort(shuffled.begin(), shuffled.end());
  EXPECT_EQ(shuffled, items);
}

TEST(Context, ByDefaultNeverStopsAndRunsSerially) {
  const Context context;
  EXPECT_FALSE(context.stopped());
  std::vector<std::size_t> order;
  context.executor().run(3, [&order](std::size_t i) { order.push_back(i); });
  EXPECT_EQ(order, (std::vector<std::size_t>{0, 1, 2}));
}

TEST(Context, HandsOnStopAndProgress) {
  bool stop = false;
  double seen = 0;
  const Context context([&stop] { return stop; },
                        [&seen](const Progress& progress) { seen = progress.fraction; });
  context.report("half way", 0.5);
  EXPECT_EQ(seen, 0.5);
  stop = true;
  EXPECT_TRUE(context.stopped());
}

}  // namespace
}  // namespace film
