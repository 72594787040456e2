#include "exchange/stock_json.h"

#include <gtest/gtest.h>

namespace film::exchange {
namespace {

TEST(StockJson, AnOutlineReadsBackToTheSameBits) {
  const Polygon outline{{{0, 0}, {600.1, 0}, {600.1, 1.0 / 3}, {0, 300}},
                        {{{10, 20}, {10, 30}, {20, 30}, {20, 20}}}};
  EXPECT_EQ(read_outline(write_outline(outline)).value(), outline);
}

TEST(StockJson, DefectsReadBackToTheSameBits) {
  const std::vector<shop::RollDefect> defects{{Mm{100.25}, Mm{1.0 / 7}, Mm{0}, Mm{20}, "dent"},
                                              {Mm{5}, Mm{1}, Mm{1}, Mm{2}, ""}};
  EXPECT_EQ(read_defects(write_defects(defects)).value(), defects);
  EXPECT_TRUE(read_defects("[]").value().empty());
}

TEST(StockJson, WhatIsWrongIsNamed) {
  EXPECT_FALSE(read_outline("nothing"));
  EXPECT_EQ(read_outline(R"({"outline": [[0, 0], [1], [1, 1]]})").error().where, "outline[1]");
  EXPECT_FALSE(read_outline(R"({"outline": [[0, 0], [1, 1], [1, 0], [0, 1]]})"));  // crosses
  EXPECT_EQ(read_defects(R"([{"from_core": 1}])").error().where, "[0]");
}

}  // namespace
}  // namespace film::exchange
