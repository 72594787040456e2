#include "formats/svg_read.h"

#include <cmath>
#include <numbers>
#include <string>

#include <gtest/gtest.h>

namespace film::formats {
namespace {

constexpr double kPi = std::numbers::pi;

/// A page of 200 x 100 mm whose user units are mm.
std::string page(const std::string& content) {
  return R"(<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" )"
         R"(viewBox="0 0 200 100">)" +
         content + "</svg>";
}

DrawnLoops read(const std::string& text) {
  const auto result = read_svg(text);
  EXPECT_TRUE(result.has_value()) << result.error().message();
  return result.value_or(DrawnLoops{});
}

double only_area(const std::string& content) {
  const DrawnLoops drawn = read(page(content));
  EXPECT_EQ(drawn.loops.size(), 1u);
  return drawn.loops.empty() ? 0 : std::abs(signed_area(drawn.loops[0].points));
}

TEST(ReadSvg, TurnsYUpwardAndTakesThePageInMillimetres) {
  const DrawnLoops drawn = read(page(R"(<rect x="10" y="20" width="30" height="40"/>)"));
  ASSERT_EQ(drawn.loops.size(), 1u);
  const Box box = bounding_box(std::span(drawn.loops[0].points));
  EXPECT_EQ(box.low, (Vec2{10, 40}));
  EXPECT_EQ(box.high, (Vec2{40, 80}));
}

TEST(ReadSvg, PhysicalUnitsScaleTheViewBox) {
  const auto drawn = read_svg(
      R"(<svg width="2in" height="1in" viewBox="0 0 20 10"><rect width="10" height="10"/></svg>)");
  ASSERT_TRUE(drawn.has_value());
  EXPECT_NEAR(std::abs(signed_area(drawn->loops[0].points)), 25.4 * 25.4, 1e-9);
  EXPECT_NEAR(drawn->mm_per_unit, 2.54, 1e-12);
}

TEST(ReadSvg, AWiderPageCentresTheViewBoxByDefault) {
  const auto drawn = read_svg(
      R"(<svg width="40mm" height="10mm" viewBox="0 0 10 10"><rect width="10" height="10"/></svg>)");
  ASSERT_TRUE(drawn.has_value());
  EXPECT_EQ(bounding_box(std::span(drawn->loops[0].points)).low, (Vec2{15, 0}));
  const auto left = read_svg(
      R"(<svg width="40mm" height="10mm" viewBox="0 0 10 10" preserveAspectRatio="xMinYMid"><rect width="10" height="10"/></svg>)");
  EXPECT_EQ(bounding_box(std::span(left->loops[0].points)).low, (Vec2{0, 0}));
  const auto stretched = read_svg(
      R"(<svg width="40mm" height="10mm" viewBox="0 0 10 10" preserveAspectRatio="none"><rect width="10" height="10"/></svg>)");
  EXPECT_NEAR(std::abs(signed_area(stretched->loops[0].points)), 400, 1e-9);
}

TEST(ReadSvg, AsksForUnitsThatTheDrawingDoesNotSay) {
  for (const char* size : {"", R"( width="200" height="100")", R"( width="100%")"}) {
    const std::string text =
        std::string("<svg viewBox=\"0 0 200 100\"") + size + "><rect width='1' height='1'/></svg>";
    const auto drawn = read_svg(text);
    ASSERT_FALSE(drawn.has_value());
    EXPECT_NE(drawn.error().remedy.find("--units"), std::string::npos);
    DrawingOptions options;
    options.mm_per_unit = 25.4;
    const auto told = read_svg(text, options);
    ASSERT_TRUE(told.has_value());
    EXPECT_NEAR(std::abs(signed_area(told->loops[0].points)), 25.4 * 25.4, 1e-9);
  }
}

TEST(ReadSvg, LinesOfEveryKindCloseTheirFigure) {
  EXPECT_NEAR(only_area(R"(<path d="M10 10 L20 10 20 20 L10,20 Z"/>)"), 100, 1e-9);
  EXPECT_NEAR(only_area(R"(<path d="m10 10h10v10h-10z"/>)"), 100, 1e-9);
  EXPECT_NEAR(only_area(R"(<path d="M10,10H20V20H10Z"/>)"), 100, 1e-9);
  EXPECT_NEAR(only_area(R"(<path d="M10-10-10-10-10 10 10 10z"/>)"), 400, 1e-9);
  EXPECT_NEAR(only_area(R"(<path d="M1e1.5.5-3 3 3z"/>)"), 24.125, 1e-9);
  EXPECT_NEAR(only_area(R"(<polygon points="0,0 10,0 10,10"/>)"), 50, 1e-9);
  EXPECT_NEAR(only_area(R"(<polyline points="0 0 10 0 10 10 0 0"/>)"), 50, 1e-9);
  const std::string lines =
      R"(<line x1="0" y1="0" x2="9" y2="0"/><line x1="9" y1="0" x2="9" y2="9"/>)"
      R"(<line x1="9" y1="9" x2="0" y2="0"/>)";
  EXPECT_NEAR(only_area(lines), 40.5, 1e-9);
}

// Exact areas: circle, ellipse, rounded rectangle, half discs by arcs.
TEST(ReadSvg, RoundShapesHaveTheirExactAreaWithinTheFlatness) {
  const double slack = 0.01 * 2 * kPi * 30;  // flatness times perimeter
  EXPECT_NEAR(only_area(R"(<circle cx="50" cy="50" r="30"/>)"), kPi * 900, slack);
  EXPECT_NEAR(only_area(R"(<ellipse cx="50" cy="50" rx="30" ry="10"/>)"), kPi * 300, slack);
  EXPECT_NEAR(only_area(R"(<rect width="60" height="40" rx="10"/>)"), 2400 - (4 - kPi) * 100,
              slack);
  EXPECT_NEAR(only_area(R"(<rect width="60" height="40" rx="10" ry="5"/>)"), 2400 - (4 - kPi) * 50,
              slack);
  EXPECT_NEAR(only_area(R"(<path d="M20 50 A30 30 0 0 1 80 50 Z"/>)"), kPi * 450, slack);
  EXPECT_NEAR(only_area(R"(<path d="M20 50a30 30 0 1160 0a30,30 0 01-60 0"/>)"), kPi * 900, slack);
  // Radii too small for the way grow until they fit (SVG 1.1, F.6.6).
  EXPECT_NEAR(only_area(R"(<path d="M20 50 A1 1 0 0 1 80 50 Z"/>)"), kPi * 450, slack);
  // Three quarters of an ellipse that stands upright by its turn.
  EXPECT_NEAR(only_area(R"(<path d="M60 50 A30 10 90 1 1 50 20 L50 50 Z"/>)"), kPi * 225, slack);
}

// A cubic from (0,0) by (0,h) and (w,h) to (w,0) over its chord: area 3/5 w h. A quadratic by
// (w/2, h): 1/3 w h.
TEST(ReadSvg, BezierCurvesHaveTheirExactArea) {
  EXPECT_NEAR(only_area(R"(<path d="M0 50 C0 10 60 10 60 50Z"/>)"), 0.6 * 60 * 40, 1);
  EXPECT_NEAR(only_area(R"(<path d="M0 50 c0-40 60-40 60 0z"/>)"), 0.6 * 60 * 40, 1);
  EXPECT_NEAR(only_area(R"(<path d="M0 50 Q30 -10 60 50Z"/>)"), 60.0 * 60 * 2 / 3 / 2, 1);
  // S and T mirror the last control point: two like arches on opposite sides, then back.
  EXPECT_NEAR(only_area(R"(<path d="M0 50C0 40 10 40 10 50S20 60 20 50V90H0Z"/>)"), 20 * 40, 0.5);
  EXPECT_NEAR(only_area(R"(<path d="M0 50Q5 40 10 50T20 50V90H0Z"/>)"), 20 * 40, 0.5);
}

TEST(ReadSvg, TransformsNestAndUseDrawsAgain) {
  const std::string ten = R"(<rect id="r" width="10" height="10"/>)";
  EXPECT_NEAR(only_area(R"x(<g transform="scale(2)"><g transform="rotate(30) skewX(20)">)x" + ten +
                        "</g></g>"),
              400, 1e-9);
  EXPECT_NEAR(only_area(R"x(<g transform="matrix(1 2 3 4 5 6)">)x" + ten + "</g>"), 200, 1e-9);
  const std::string uses =
      R"(<use href="#r" x="20"/><use href="#r" y="30"/>)"
      R"(<symbol id="s" viewBox="0 0 1 1"><rect width="1" height="1"/></symbol>)"
      R"(<use href="#s" width="5" height="5" x="70"/>)";
  const DrawnLoops drawn = read(page("<defs>" + ten + "</defs>" + uses));
  ASSERT_EQ(drawn.loops.size(), 3u);
  EXPECT_EQ(bounding_box(std::span(drawn.loops[0].points)).low, (Vec2{20, 90}));
  EXPECT_NEAR(std::abs(signed_area(drawn.loops[2].points)), 25, 1e-9);
}

TEST(ReadSvg, RotatesAboutAPoint) {
  const DrawnLoops drawn =
      read(page(R"x(<rect width="20" height="10" transform="rotate(90 10 10)"/>)x"));
  const Box box = bounding_box(std::span(drawn.loops[0].points));
  EXPECT_NEAR(box.low.x, 10, 1e-9);
  EXPECT_NEAR(box.high.x, 20, 1e-9);
  EXPECT_NEAR(box.high.y, 100, 1e-9);
}

TEST(ReadSvg, LeavesOutWhatIsHiddenAndSaysWhatItCannotRead) {
  const DrawnLoops drawn = read(
      page(R"(<g display="none"><rect width="1" height="1"/></g>)"
           R"(<rect style="display:none" width="1" height="1"/><text>door</text><text>x</text>)"));
  EXPECT_TRUE(drawn.loops.empty());
  ASSERT_EQ(drawn.notes.size(), 1u);
  EXPECT_EQ(drawn.notes[0], "left out 2: <text>");
}

TEST(ReadSvg, LooseEndsAreReportedWithTheirPlace) {
  const DrawnLoops drawn = read(page(R"(<g id="door"><path d="M0 0H50V50H0V2"/></g>)"));
  EXPECT_TRUE(drawn.loops.empty());
  ASSERT_EQ(drawn.loose.size(), 2u);
  EXPECT_NEAR(drawn.loose[0].gap, 2, 1e-9);
  EXPECT_EQ(drawn.loose[0].layer, "door");
  EXPECT_NE(drawn.loose[0].where.find("line 1"), std::string::npos);
}

TEST(ReadSvg, RefusesWhatIsBrokenNamingThePlace) {
  struct Case {
    std::string text;
    const char* place;
  };
  const Case cases[] = {
      {"", "line"},
      {"<svg width='1mm'", "line 1"},
      {"<html/>", "html"},
      {page("\n<path d='M0 0 L'/>"), "line 2"},
      {page("<path id='p' d='L0 0'/>"), "\"p\""},
      {page("<path d='M0 0 L1e999 0'/>"), "path"},
      {page("<path d='M0 0 A1 1 0 2 0 3 3'/>"), "path"},
      {page("<path d='M0 0 X1'/>"), "character"},
      {page("<path d='M0 0 L1e9 0 L0 9 Z'/>"), "1 km"},
      {page("<g transform='scale(1'><rect/></g>"), "transform"},
      {page("<use href='#nobody'/>"), "nobody"},
      {page("<g id='a'><use href='#a'/></g>"), "too often"},
      {page("<rect width='3em' height='1'/>"), "3em"},
      {"<!DOCTYPE svg [<!ENTITY a 'aaaa'>]>" + page("<text>&a;</text>"), "entities"},
  };
  for (const Case& c : cases) {
    const auto drawn = read_svg(c.text);
    ASSERT_FALSE(drawn.has_value()) << c.text;
    EXPECT_NE(drawn.error().message().find(c.place), std::string::npos)
        << c.text << ": " << drawn.error().message();
  }
}

TEST(ReadSvg, StopsAtTheMostPointsAllowed) {
  DrawingOptions options;
  options.most_points = 100;
  const auto drawn = read_svg(page(R"(<circle cx="50" cy="50" r="40000"/>)"), options);
  ASSERT_FALSE(drawn.has_value());
  EXPECT_EQ(drawn.error().code, ErrorCode::too_large);
}

}  // namespace
}  // namespace film::formats
