#include "base/length.h"

#include <gtest/gtest.h>

namespace film {
namespace {

TEST(ParseLength, ReadsTheUnitsPeopleUse) {
  EXPECT_DOUBLE_EQ(parse_length("60in")->value, 1524);
  EXPECT_DOUBLE_EQ(parse_length(" 1524 mm ")->value, 1524);
  EXPECT_DOUBLE_EQ(parse_length("1.524m")->value, 1524);
  EXPECT_DOUBLE_EQ(parse_length("60\"")->value, 1524);
  EXPECT_DOUBLE_EQ(parse_length("5ft")->value, 1524);
  EXPECT_DOUBLE_EQ(parse_length("152.4cm")->value, 1524);
}

TEST(ParseLength, RefusesWhatItCannotBeSureOf) {
  for (const char* text : {"", "in", "60", "60 furlongs", "nan in", "inf mm", "1e999mm", "6 0in"}) {
    EXPECT_FALSE(parse_length(text)) << text;
  }
  EXPECT_NE(parse_length("60").error().message().find("unit"), std::string::npos);
}

}  // namespace
}  // namespace film
