#include "shop/stock_ledger.h"

#include <algorithm>
#include <limits>
#include <vector>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "base/text.h"

namespace film::shop {
namespace {

// Lengths a person might type, and some that nobody should.
Mm any_length(Rng& rng, const Roll& roll) {
  switch (rng.below(8)) {
    case 0: return Mm{0};
    case 1: return Mm{-100 * rng.uniform()};
    case 2: return roll.remaining;
    case 3: return roll.length;
    case 4: return roll.length - roll.remaining;
    case 5: return Mm{std::numeric_limits<double>::infinity()};
    default: return Mm{roll.length.value / 3 * rng.uniform()};
  }
}

Result<StockLine> any_line(Rng& rng, const Roll& roll) {
  const Mm length = any_length(rng, roll);
  switch (rng.below(5)) {
    case 0: return give_back(roll, length, "J-1");
    case 1: return write_off(roll, length, "torn");
    case 2: return count(roll, length, "tape");
    case 3: return cut(roll, length, "J-1");
    default: {
      // A line that no verb made.
      StockLine line;
      line.roll = roll.id;
      line.verb = static_cast<StockVerb>(rng.below(5));
      line.change = Mm{4 * roll.length.value * (rng.uniform() - 0.5)};
      return line;
    }
  }
}

TEST(StockLedger, NoSequenceOfVerbsLeadsBelowNothingOrAboveTheLengthAndTheSumIsExact) {
  Rng rng(7);
  std::size_t booked_lines = 0;
  std::size_t refused = 0;
  for (int run = 0; run < 300; ++run) {
    SCOPED_TRACE(format("run {}", run));
    Roll roll{"R-1", "clear",      "L7", Mm{1524}, booked(Mm{1 + 50000 * rng.uniform()}),
              {},    "2031-05-04", ""};
    roll.remaining = roll.length;
    std::vector<StockLine> lines{received(roll)};
    for (int step = 0; step < 200; ++step) {
      const auto line = any_line(rng, roll);
      const auto next = line ? after(roll, *line) : Result<Roll>(Failure(line.error()));
      if (!next) {
        ++refused;
        continue;
      }
      roll = *next;
      lines.push_back(*line);
      ++booked_lines;
      ASSERT_GE(roll.remaining, Mm{0});
      ASSERT_LE(roll.remaining, roll.length);
    }
    EXPECT_EQ(sum_of(lines), roll.remaining);
    std::reverse(lines.begin(), lines.end());  // exact in any order
    EXPECT_EQ(sum_of(lines), roll.remaining);
  }
  EXPECT_GT(booked_lines, 10000u);
  EXPECT_GT(refused, 10000u);
}

}  // namespace
}  // namespace film::shop
