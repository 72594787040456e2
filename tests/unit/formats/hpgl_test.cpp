#include "formats/hpgl.h"

#include <gtest/gtest.h>

namespace film::formats {
namespace {

const HpglCoordinates kAllCoordinates[] = {HpglCoordinates::absolute, HpglCoordinates::relative,
                                           HpglCoordinates::encoded};

TEST(HpglWriter, WritesTheSamePathInEveryCoordinateForm) {
  for (const HpglCoordinates coordinates : kAllCoordinates) {
    HpglWriter writer(coordinates);
    writer.initialize();
    writer.select_pen(1);
    writer.velocity(40);
    writer.force(5);
    writer.move({100, -200});
    for (int i = 0; i < 200; ++i) writer.draw({100 + 7 * i, -200 + i * i});
    writer.move({-3, 5'000'000});
    writer.draw({0, 0});
    writer.finish();
    const auto plot = read_hpgl(writer.bytes());
    ASSERT_TRUE(plot) << plot.error().message();
    ASSERT_EQ(plot->strokes.size(), 4u);
    EXPECT_FALSE(plot->strokes[0].down);
    EXPECT_EQ(plot->strokes[0].points, (std::vector<HpglPoint>{{0, 0}, {100, -200}}));
    EXPECT_TRUE(plot->strokes[1].down);
    EXPECT_EQ(plot->strokes[1].pen, 1);
    EXPECT_EQ(plot->strokes[1].points.size(), 201u);
    EXPECT_EQ(plot->strokes[1].points.back(), (HpglPoint{100 + 7 * 199, -200 + 199 * 199}));
    EXPECT_EQ(plot->strokes[2].points.back(), (HpglPoint{-3, 5'000'000}));
    EXPECT_EQ(plot->strokes[3].points.back(), (HpglPoint{0, 0}));
    EXPECT_TRUE(plot->skipped.empty());
  }
}

// PCL 5 Printer Language Technical Reference Manual, part II, tables 20-24 and 20-26: 82.23 with 7
// fractional bits is 10 525, doubled 21 050, in base 64 the bytes 121, 71, 196.
TEST(ReadHpgl, DecodesTheManualsOwnExampleOfAnEncodedNumber) {
  const std::string bytes = "IN;PE>\xcd<=\x79\x47\xc4\x79\x47\xc4;";
  const auto plot = read_hpgl(bytes);
  ASSERT_TRUE(plot) << plot.error().message();
  ASSERT_EQ(plot->strokes.size(), 1u);
  EXPECT_FALSE(plot->strokes[0].down);
  EXPECT_EQ(plot->strokes[0].points.back(), (HpglPoint{82, 82}));
}

// The same manual: in 7-bit mode digits below the highest use bytes 63-94, the highest 95-126.
TEST(ReadHpgl, DecodesSevenBitNumbers) {
  // 10 * 2 = 20 -> 95 + 20 = 115 's'; -40: 2 * 40 + 1 = 81 = 2 * 32 + 17 -> 63 + 17 = 80 'P', 97
  // 'a'
  const auto plot = read_hpgl("PE7sPa;");
  ASSERT_TRUE(plot) << plot.error().message();
  EXPECT_TRUE(plot->strokes[0].down);
  EXPECT_EQ(plot->strokes[0].points.back(), (HpglPoint{10, -40}));
}

TEST(ReadHpgl, ToleratesWhatPlotFilesLookLike) {
  const auto plot =
      read_hpgl("\x1b.(;in sp2 pu 10 20 pd30,40 50 60\nPR;pd-10,-10;LBnot drawn; PD\x03PU;");
  ASSERT_TRUE(plot) << plot.error().message();
  ASSERT_EQ(plot->strokes.size(), 2u);
  EXPECT_EQ(plot->strokes[1].pen, 2);
  EXPECT_EQ(plot->strokes[1].points,
            (std::vector<HpglPoint>{{10, 20}, {30, 40}, {50, 60}, {40, 50}}));
  ASSERT_EQ(plot->skipped.size(), 2u);
  EXPECT_EQ(plot->skipped[1].instruction, "LB");
}

TEST(ReadHpgl, ListsWhatItSkips) {
  const auto plot = read_hpgl("IN;ZZ1,2;WD\"a;PD5,5\";PU1,1;");
  ASSERT_TRUE(plot);
  EXPECT_EQ(plot->skipped, (std::vector<HpglSkip>{{"ZZ", 3}, {"WD", 9}}));
  EXPECT_EQ(plot->strokes.size(), 1u);
}

TEST(ReadHpgl, NamesTheByteOfWhatItRefuses) {
  EXPECT_EQ(read_hpgl("IN;PD10,20,30;").error().where, "byte 13");
  EXPECT_EQ(read_hpgl("IN;SC0,1,0,1;").error().code, ErrorCode::unsupported);
  EXPECT_EQ(read_hpgl("IN;RO90;").error().code, ErrorCode::unsupported);
  EXPECT_TRUE(read_hpgl("IN;SC;RO0;RO;"));
  EXPECT_EQ(read_hpgl("PA99999999999,0;").error().code, ErrorCode::invalid_input);
  EXPECT_EQ(read_hpgl("PE=yG").error().code, ErrorCode::invalid_input);
  EXPECT_EQ(read_hpgl("PR1000000000,0,1000000000,0;").error().code, ErrorCode::invalid_input);
}

}  // namespace
}  // namespace film::formats
