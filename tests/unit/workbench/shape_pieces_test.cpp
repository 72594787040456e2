#include "workbench/shape_pieces.h"

#include <numbers>

#include <gtest/gtest.h>

#include "exchange/piece_json.h"
#include "formats/dxf_read.h"
#include "formats/svg_read.h"
#include "pattern/edges.h"

namespace film::workbench {
namespace {

constexpr std::string_view kDoor =
    R"(<svg width="600mm" height="400mm" viewBox="0 0 600 400"><g id="door">)"
    R"(<path d="M50 350V100H550V350Z"/><rect x="400" y="150" width="80" height="25"/></g>)"
    R"(<rect x="10" y="10" width="60" height="40"/></svg>)";

DrawnPieces door() {
  const auto drawn = draw_pieces(kDoor, DrawingForm::svg, {}, "door.svg");
  EXPECT_TRUE(drawn.has_value());
  return drawn.value_or(DrawnPieces{});
}

TEST(DrawPieces, OutlinesBecomePiecesNamedAfterTheirGroup) {
  const DrawnPieces drawn = door();
  ASSERT_EQ(drawn.pieces.size(), 2u);
  EXPECT_EQ(drawn.pieces[0].id, "door");
  EXPECT_EQ(drawn.pieces[0].fold.holes.size(), 1u);
  EXPECT_EQ(drawn.pieces[0].edges.size(), 8u);
  EXPECT_EQ(drawn.pieces[1].id, "piece 1");
}

TEST(DrawPieces, ADrawingThatDoesNotCloseNamesItsEnds) {
  const auto drawn = draw_pieces(
      R"(<svg width="90mm" height="90mm" viewBox="0 0 90 90"><path d="M5 5H50V50H5V7"/></svg>)",
      DrawingForm::svg, {}, "open.svg");
  ASSERT_FALSE(drawn.has_value());
  EXPECT_NE(drawn.error().message().find("2.000 mm from the next"), std::string::npos)
      << drawn.error().message();
  EXPECT_NE(drawn.error().message().find("open.svg"), std::string::npos);
}

TEST(TuckPieces, AllowancesGoByNameAndByKind) {
  TuckRequest request;
  request.all = Mm{6};
  request.edges = {{"cutout", Mm{0}}, {"edge 2", Mm{-1}}};
  request.options.relief.wanted = false;
  const auto tucked = tuck_pieces(door().pieces, request);
  ASSERT_TRUE(tucked.has_value());
  for (const pattern::EdgeStretch& edge : tucked->pieces[0].edges) {
    const double expected =
        edge.kind == pattern::EdgeKind::cutout ? 0 : (edge.name == "edge 2" ? -1 : 6);
    EXPECT_EQ(edge.allowance.value, expected) << edge.name;
  }
  EXPECT_EQ(tucked->tucks[0].size(), 3u);
  request.edges = {{"nobody", Mm{1}}};
  EXPECT_EQ(tuck_pieces(door().pieces, request).error().code, ErrorCode::not_found);
}

TEST(WithTwins, APairIsNotDoubled) {
  const auto once = with_twins(door().pieces);
  EXPECT_EQ(once.size(), 4u);
  EXPECT_EQ(with_twins(once).size(), 4u);
}

TEST(PieceFile, DrawingsReadBackToTheSameCut) {
  const auto tucked = tuck_pieces(door().pieces, {});
  ASSERT_TRUE(tucked.has_value());
  const auto svg = formats::read_svg(piece_file(tucked->pieces, PieceForm::svg));
  const auto dxf = formats::read_dxf(piece_file(tucked->pieces, PieceForm::dxf));
  ASSERT_TRUE(svg.has_value());
  ASSERT_TRUE(dxf.has_value());
  for (const auto* drawn : {&*svg, &*dxf}) {
    double worst = 1e9;
    for (const formats::DrawnLoop& loop : drawn->loops) {
      worst = std::min(worst, std::abs(std::abs(signed_area(loop.points)) -
                                       signed_area(tucked->pieces[0].cut.outer)));
    }
    EXPECT_LT(worst, 2);  // of 133 000 mm^2; SVG has three decimals
  }
  EXPECT_EQ(*exchange::read_pieces(piece_file(tucked->pieces, PieceForm::json)), tucked->pieces);
}

TEST(SmoothPieces, DrawsCurvesThatReadBackAsTheOutline) {
  Ring ring;
  for (int i = 0; i < 900; ++i) {
    const double a = i * std::numbers::pi / 450;
    ring.push_back({300 * std::cos(a) + 20 * std::cos(3 * a), 180 * std::sin(a)});
  }
  const std::vector<pattern::Piece> pieces{
      pattern::piece_from_outline("oval", *make_polygon(std::move(ring)))};
  const auto smoothed = smooth_pieces(pieces, Mm{0.1});
  ASSERT_TRUE(smoothed);
  EXPECT_LE(smoothed->worst_deviation, 0.1);
  EXPECT_LT(10 * smoothed->curves, smoothed->points);
  for (const PieceForm form : {PieceForm::svg, PieceForm::dxf}) {
    const auto text = drawing_file(smoothed->drawing, form);
    ASSERT_TRUE(text);
    const auto drawn = draw_pieces(
        *text, form == PieceForm::svg ? DrawingForm::svg : DrawingForm::dxf, {}, "oval");
    ASSERT_TRUE(drawn) << drawn.error().message();
    EXPECT_NEAR(area(drawn->pieces.front().fold), area(pieces.front().fold), 0.1 * 1600);
  }
  EXPECT_NE(drawing_file(smoothed->drawing, PieceForm::svg)->find('C'), std::string::npos);
  EXPECT_EQ(drawing_file(smoothed->drawing, PieceForm::json).error().code, ErrorCode::unsupported);
  EXPECT_FALSE(smooth_pieces(pieces, Mm{0}));
}

}  // namespace
}  // namespace film::workbench
