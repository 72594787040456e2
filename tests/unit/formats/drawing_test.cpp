#include "formats/drawing.h"

#include <cmath>

#include <gtest/gtest.h>
#include <pugixml.hpp>

#include "formats/dxf.h"
#include "formats/dxf_read.h"
#include "formats/svg.h"
#include "formats/svg_read.h"

namespace film::formats {
namespace {

Drawing sample() {
  Layer piece;
  piece.name = "piece 1";
  piece.style = {Colour{250, 10, 10}, Colour{200, 220, 255}, Mm{0.5}, Mm{0}};
  piece.regions = {make_polygon({{10, 20}, {110, 20}, {110, 80.5}, {10, 80.5}},
                                {{{30, 30}, {30, 50}, {50, 50}, {50, 30}}})
                       .value()};
  piece.writings = {{"Tür <left> & \"right\"", {60, 40}, Mm{5}, Angle::from_degrees(90)}};
  Layer slit;
  slit.name = "slit";
  slit.style.dash = Mm{2};
  slit.lines = {{{10, 20}, {20, 30.1234567}}};
  Drawing drawing;
  drawing.title = "Sample & test";
  drawing.layers = {piece, slit};
  return drawing;
}

TEST(Extent, IsThePageOrTheBoxRoundEverything) {
  Drawing drawing = sample();
  EXPECT_EQ(extent(drawing), (Box{{10, 20}, {110, 80.5}}));
  drawing.page = Box{{0, 0}, {200, 100}};
  EXPECT_EQ(extent(drawing), *drawing.page);
  EXPECT_EQ(extent({}), (Box{{0, 0}, {1, 1}}));
}

// SVG 1.1, 5.1.2 and 7.2: with these, one user unit is a millimetre.
TEST(WriteSvg, HasItsPhysicalSizeAndIsWellFormed) {
  pugi::xml_document svg;
  ASSERT_TRUE(svg.load_string(write_svg(sample()).c_str()));
  const auto root = svg.child("svg");
  EXPECT_STREQ(root.attribute("width").value(), "100mm");
  EXPECT_STREQ(root.attribute("height").value(), "60.5mm");
  EXPECT_STREQ(root.attribute("viewBox").value(), "0 0 100 60.5");
  EXPECT_STREQ(root.child("title").child_value(), "Sample & test");
  const auto group = root.child("g");
  EXPECT_STREQ(group.attribute("id").value(), "piece_1");
  EXPECT_STREQ(group.attribute("fill").value(), "#c8dcff");
  EXPECT_STREQ(group.child("text").child_value(), "Tür <left> & \"right\"");
  EXPECT_STREQ(group.child("path").attribute("d").value(),
               "M0 60.5L100 60.5L100 0L0 0ZM20 50.5L20 30.5L40 30.5L40 50.5Z");
}

void expect_the_two_rings(const Result<DrawnLoops>& read) {
  ASSERT_TRUE(read) << read.error().message();
  ASSERT_EQ(read->loops.size(), 2u);
  EXPECT_DOUBLE_EQ(read->mm_per_unit, 1);
  EXPECT_EQ(read->loops[0].layer, "piece_1");
  EXPECT_NEAR(std::abs(signed_area(read->loops[0].points)), 100 * 60.5, 1e-6);
  EXPECT_NEAR(std::abs(signed_area(read->loops[1].points)), 20 * 20, 1e-6);
}

// Our own readers were written from the standards, apart from the writers.
TEST(WriteSvg, ReadsBackInMillimetres) { expect_the_two_rings(read_svg(write_svg(sample()))); }

TEST(WriteDxf, ReadsBackInMillimetres) { expect_the_two_rings(read_dxf(write_dxf(sample()))); }

TEST(WriteDxf, StaysAsciiAndNamesLayersAndUnits) {
  const std::string dxf = write_dxf(sample());
  for (const char c : dxf) EXPECT_LT(static_cast<unsigned char>(c), 0x80);
  EXPECT_NE(dxf.find("  9\n$INSUNITS\n 70\n4\n"), std::string::npos);
  EXPECT_NE(dxf.find("  0\nLAYER\n  2\npiece_1\n 70\n0\n 62\n1\n"), std::string::npos);
  EXPECT_NE(dxf.find("T\\U+00FCr <left>"), std::string::npos);
  EXPECT_EQ(dxf.substr(dxf.size() - 8), "  0\nEOF\n");
}

}  // namespace
}  // namespace film::formats
