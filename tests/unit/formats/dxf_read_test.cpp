#include "formats/dxf_read.h"

#include <cmath>
#include <numbers>
#include <string>

#include <gtest/gtest.h>

namespace film::formats {
namespace {

constexpr double kPi = std::numbers::pi;

/// "0 LINE 8 door 10 1.5" as group lines.
std::string groups(const std::string& words) {
  std::string text;
  for (const char c : words) text += c == ' ' ? '\n' : c;
  return text + "\n";
}

std::string drawing(const std::string& entities, const std::string& blocks = "", int units = 4) {
  return groups("0 SECTION 2 HEADER 9 $INSUNITS 70 " + std::to_string(units) + " 0 ENDSEC") +
         (blocks.empty() ? "" : groups("0 SECTION 2 BLOCKS " + blocks + " 0 ENDSEC")) +
         groups("0 SECTION 2 ENTITIES " + entities + " 0 ENDSEC 0 EOF");
}

DrawnLoops read(const std::string& text) {
  const auto result = read_dxf(text);
  EXPECT_TRUE(result.has_value()) << result.error().message();
  return result.value_or(DrawnLoops{});
}

double only_area(const std::string& entities, const std::string& blocks = "") {
  const DrawnLoops drawn = read(drawing(entities, blocks));
  EXPECT_EQ(drawn.loops.size(), 1u);
  return drawn.loops.empty() ? 0 : signed_area(drawn.loops[0].points);
}

const char* const kSquare =
    "0 LWPOLYLINE 8 door 90 4 70 1 10 0 20 0 10 10 20 0 10 10 20 10 10 0 20 10";

TEST(ReadDxf, LooseLinesAreJoinedWithinTheTolerance) {
  const std::string lines =
      "0 LINE 8 a 10 0 20 0 11 10 21 0 0 LINE 8 a 10 10.05 20 10 11 10 21 0 "
      "0 LINE 8 a 10 10.05 20 10 11 0 21 10 0 LINE 8 a 10 0 20 0.04 11 0 21 10";
  EXPECT_NEAR(std::abs(only_area(lines)), 100, 1);
  DrawingOptions strict;
  strict.join_tolerance = Mm{0.01};
  const auto drawn = read_dxf(drawing(lines), strict);
  ASSERT_TRUE(drawn.has_value());
  EXPECT_TRUE(drawn->loops.empty());
  ASSERT_EQ(drawn->loose.size(), 2u);
  EXPECT_NEAR(drawn->loose[0].gap, 0.04, 1e-9);
  EXPECT_EQ(drawn->loose[0].layer, "a");
}

// Exact areas: disc, half disc by bulge 1, ellipse, sector of a quarter.
TEST(ReadDxf, RoundEntitiesHaveTheirExactArea) {
  const double slack = 0.01 * 2 * kPi * 30;
  EXPECT_NEAR(only_area("0 CIRCLE 8 0 10 5 20 5 40 30"), kPi * 900, slack);
  EXPECT_NEAR(only_area("0 LWPOLYLINE 90 2 70 1 10 -30 20 0 42 0 10 30 20 0 42 1"), kPi * 450,
              slack);
  EXPECT_NEAR(only_area("0 LWPOLYLINE 90 2 70 1 10 -30 20 0 42 1 10 30 20 0 42 1"), kPi * 900,
              slack);
  EXPECT_NEAR(only_area("0 LWPOLYLINE 90 2 70 1 10 -30 20 0 42 -1 10 30 20 0 42 -1"), -kPi * 900,
              slack);
  EXPECT_NEAR(only_area("0 ELLIPSE 10 0 20 0 11 30 21 0 40 0.5 41 0 42 6.283185307179586"),
              kPi * 450, slack);
  EXPECT_NEAR(std::abs(only_area("0 ARC 10 0 20 0 40 30 50 270 51 0 0 LINE 10 0 20 -30 11 0 21 0 "
                                 "0 LINE 10 0 20 0 11 30 21 0")),
              kPi * 225, slack);
}

// Found by fuzzing: an arc whose angles are so large that adding a turn changes nothing.
TEST(ReadDxf, AnArcWithHugeAnglesEnds) {
  EXPECT_TRUE(read_dxf(drawing("0 ARC 10 0 20 0 40 3 50 1e300 51 -1e300")).has_value());
  EXPECT_TRUE(read_dxf(drawing("0 ELLIPSE 10 0 20 0 11 3 21 0 40 1 41 1e30 42 5")).has_value());
}

TEST(ReadDxf, OldPolylinesAndTurnedOverEntitiesAreRead) {
  EXPECT_NEAR(only_area("0 POLYLINE 70 1 66 1 0 VERTEX 10 0 20 0 0 VERTEX 10 10 20 0 "
                        "0 VERTEX 10 10 20 10 0 SEQEND"),
              50, 1e-9);
  // Extrusion (0, 0, -1): x runs the other way.
  const DrawnLoops drawn = read(drawing("0 CIRCLE 10 50 20 5 40 10 210 0 220 0 230 -1"));
  EXPECT_NEAR(bounding_box(std::span(drawn.loops[0].points)).centre().x, -50,
              0.01);  // the flatness
}

// A cubic Bezier written as a spline (the control polygon of the SVG test): area 3/5 w h. A
// quarter circle as a rational quadratic with weight sqrt(1/2) in the middle.
TEST(ReadDxf, SplinesAreExact) {
  EXPECT_NEAR(std::abs(only_area(
                  "0 SPLINE 71 3 40 0 40 0 40 0 40 0 40 1 40 1 40 1 40 1 10 0 20 0 10 0 20 40 "
                  "10 60 20 40 10 60 20 0 0 LINE 10 60 20 0 11 0 21 0")),
              0.6 * 60 * 40, 0.5);
  const DrawnLoops drawn =
      read(drawing("0 SPLINE 71 2 40 0 40 0 40 0 40 1 40 1 40 1 41 1 41 0.7071067811865476 41 1 "
                   "10 30 20 0 10 30 20 30 10 0 20 30 0 LINE 10 0 20 30 11 0 21 0 "
                   "0 LINE 10 0 20 0 11 30 21 0"));
  ASSERT_EQ(drawn.loops.size(), 1u);
  for (const Vec2 p : drawn.loops[0].points) {
    if (p != Vec2{0, 0}) {
      EXPECT_NEAR(length(p), 30, 1e-9);
    }
  }
}

TEST(ReadDxf, BlocksAreScaledTurnedMirroredAndRepeated) {
  const std::string block = std::string("0 BLOCK 2 pad 10 5 20 5 ") + kSquare + " 0 ENDBLK";
  EXPECT_NEAR(only_area("0 INSERT 2 pad 10 100 20 0 41 2 42 3 50 30", block), 600, 1e-9);
  EXPECT_NEAR(only_area("0 INSERT 2 pad 10 100 20 0 41 -1", block), -100, 1e-9);
  const DrawnLoops array = read(drawing("0 INSERT 2 pad 10 0 20 0 70 3 71 2 44 20 45 30", block));
  ASSERT_EQ(array.loops.size(), 6u);
  EXPECT_EQ(bounding_box(std::span(array.loops[5].points)).centre(), (Vec2{40, 30}));
  // A block in a block; entities on layer 0 take the layer of the insert.
  const DrawnLoops nested =
      read(drawing("0 INSERT 2 outer 8 roof 10 0 20 0 50 90",
                   "0 BLOCK 2 inner 0 CIRCLE 8 0 10 0 20 0 40 1 0 ENDBLK "
                   "0 BLOCK 2 outer 0 INSERT 2 inner 8 0 10 7 20 0 0 ENDBLK"));
  ASSERT_EQ(nested.loops.size(), 1u);
  EXPECT_EQ(nested.loops[0].layer, "roof");
  EXPECT_NEAR(bounding_box(std::span(nested.loops[0].points)).centre().y, 7, 0.01);
}

TEST(ReadDxf, UnitsComeFromTheHeaderOrAreAskedFor) {
  const auto inches = read_dxf(drawing(kSquare, "", 1));
  ASSERT_TRUE(inches.has_value());
  EXPECT_NEAR(signed_area(inches->loops[0].points), 100 * 25.4 * 25.4, 1e-6);
  const auto unknown = read_dxf(drawing(kSquare, "", 0));
  ASSERT_FALSE(unknown.has_value());
  EXPECT_NE(unknown.error().remedy.find("--units"), std::string::npos);
  DrawingOptions options;
  options.mm_per_unit = 10;
  EXPECT_NEAR(signed_area(read_dxf(drawing(kSquare, "", 0), options)->loops[0].points), 1e4, 1e-6);
}

TEST(ReadDxf, HiddenLayersAndForeignEntitiesAreLeftOutAndSaid) {
  const std::string text =
      groups("0 SECTION 2 TABLES 0 TABLE 2 LAYER 0 LAYER 2 aids 70 1 62 7 0 ENDTAB 0 ENDSEC") +
      drawing(std::string(kSquare) + " 0 CIRCLE 8 aids 10 0 20 0 40 3 0 TEXT 8 a 1 x");
  const DrawnLoops drawn = read(text);
  EXPECT_EQ(drawn.loops.size(), 1u);
  EXPECT_EQ(drawn.notes.size(), 2u);
}

TEST(ReadDxf, ALineDrawnTwiceCountsOnce) {
  const DrawnLoops drawn = read(drawing(std::string(kSquare) + " " + kSquare));
  EXPECT_EQ(drawn.loops.size(), 1u);
  EXPECT_EQ(drawn.notes.size(), 1u);
}

TEST(ReadDxf, RefusesWhatIsBrokenNamingEntityAndLine) {
  struct Case {
    std::string text;
    const char* place;
  };
  const std::string ring = "0 BLOCK 2 a 0 INSERT 2 b 0 ENDBLK 0 BLOCK 2 b 0 INSERT 2 a 0 ENDBLK";
  const Case cases[] = {
      {"", "not a DXF"},
      {"hello\nworld\n", "line 1"},
      {drawing(kSquare).substr(0, 120), "cut off"},
      {groups("0 SECTION 2 ENTITIES 0 LINE 10 0"), "cut off"},
      {drawing("0 LINE 10 nan 20 0 11 1 21 1"), "nan"},
      {drawing("0 LINE 10 1e999 20 0 11 1 21 1"), "LINE at line"},
      {drawing("0 LINE 10 1e9 20 0 11 1 21 1"), "1 km"},
      {drawing("0 SPLINE 71 3 40 0 40 1 10 0 20 0"), "SPLINE at line"},
      {drawing("0 INSERT 2 nobody"), "nobody"},
      {drawing("0 INSERT 2 a", ring), "too deep"},
      {drawing("0 INSERT 2 a 70 32000 71 32000", "0 BLOCK 2 a 0 ENDBLK"), "too often"},
      {"AutoCAD Binary DXF\r\n", "ASCII"},
  };
  for (const Case& c : cases) {
    const auto drawn = read_dxf(c.text);
    ASSERT_FALSE(drawn.has_value()) << c.text;
    EXPECT_NE(drawn.error().message().find(c.place), std::string::npos)
        << c.text << ": " << drawn.error().message();
  }
}

}  // namespace
}  // namespace film::formats
