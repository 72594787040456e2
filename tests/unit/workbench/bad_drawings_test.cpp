// What a shop may be sent by mistake or by malice: one clear error, or pieces and a note.

#include <chrono>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "workbench/shape_pieces.h"

namespace film::workbench {
namespace {

/// "0 LINE 10 1.5" as group lines.
std::string groups(const std::string& words) {
  std::string text;
  for (const char c : words) text += c == ' ' ? '\n' : c;
  return text + "\n";
}

std::string dxf(const std::string& entities, const std::string& blocks = "", int units = 4) {
  return groups("0 SECTION 2 HEADER 9 $INSUNITS 70 " + std::to_string(units) + " 0 ENDSEC") +
         (blocks.empty() ? "" : groups("0 SECTION 2 BLOCKS " + blocks + " 0 ENDSEC")) +
         groups("0 SECTION 2 ENTITIES " + entities + " 0 ENDSEC 0 EOF");
}

std::string polyline(const std::vector<Vec2>& points) {
  std::string text = "0 LWPOLYLINE 8 door 90 " + std::to_string(points.size()) + " 70 1";
  for (const Vec2 p : points) text += " 10 " + std::to_string(p.x) + " 20 " + std::to_string(p.y);
  return text;
}

std::string svg(const std::string& body, const std::string& size = "width='90mm' height='90mm'") {
  return "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 90 90' " + size + ">" + body +
         "</svg>";
}

Error refusal(const std::string& bytes, DrawingForm form) {
  const auto drawn = draw_pieces(bytes, form, {}, "sent.file");
  EXPECT_FALSE(drawn.has_value()) << bytes.substr(0, 200);
  return drawn ? Error{} : drawn.error();
}

TEST(BadDrawings, ASelfCrossingOutlineIsRefusedNamingFileAndPlace) {
  const std::string bow = polyline({{0, 0}, {40, 40}, {40, 0}, {0, 40.5}});
  for (const auto& [bytes, form] :
       {std::pair(dxf(bow), DrawingForm::dxf),
        std::pair(svg("<path d='M0 0 L40 40 L40 0 L0 40.5 Z'/>"), DrawingForm::svg)}) {
    const Error error = refusal(bytes, form);
    EXPECT_EQ(error.code, ErrorCode::invalid_input);
    EXPECT_NE(error.message().find("sent.file"), std::string::npos) << error.message();
    EXPECT_NE(error.message().find("20"), std::string::npos) << error.message();  // near (20, 20)
  }
}

TEST(BadDrawings, AnOutlineWithoutAreaIsRefusedAndAnOpenOneNamesItsEnds) {
  refusal(dxf(polyline({{0, 0}, {40, 0}, {20, 0}})), DrawingForm::dxf);
  const Error open = refusal(svg("<path d='M10 10 H50 V50'/>"), DrawingForm::svg);
  EXPECT_NE(open.message().find("10.0"), std::string::npos) << open.message();
}

TEST(BadDrawings, AnOutlineDrawnTwiceIsOnePieceAndSaid) {
  const std::string once = polyline({{0, 0}, {40, 0}, {40, 30}, {0, 30}});
  const auto drawn = draw_pieces(dxf(once + " " + once), DrawingForm::dxf, {}, "twice.dxf");
  ASSERT_TRUE(drawn.has_value()) << drawn.error().message();
  EXPECT_EQ(drawn->pieces.size(), 1U);
  EXPECT_FALSE(drawn->notes.empty());
}

TEST(BadDrawings, UnitsAreAskedForWhenNobodySays) {
  const std::string square = polyline({{0, 0}, {4, 0}, {4, 3}, {0, 3}});
  EXPECT_NE(refusal(dxf(square, "", 0), DrawingForm::dxf).message().find("unit"),
            std::string::npos);
  EXPECT_NE(
      refusal(svg("<rect width='4' height='3'/>", ""), DrawingForm::svg).message().find("unit"),
      std::string::npos);
  formats::DrawingOptions inches;
  inches.mm_per_unit = 25.4;
  const auto drawn = draw_pieces(dxf(square, "", 0), DrawingForm::dxf, inches, "inches.dxf");
  ASSERT_TRUE(drawn.has_value());
  EXPECT_NEAR(area(drawn->pieces[0].fold), 12 * 25.4 * 25.4, 1e-6);
}

TEST(BadDrawings, TenMillionPointsAreTooMany) {
  std::vector<Vec2> ring;
  for (int k = 0; k < 1000; ++k) {
    ring.push_back({k < 500 ? k * 0.1 : 50 - (k - 500) * 0.1, k < 500 ? 0.0 : 30.0});
  }
  const std::string block = "0 BLOCK 2 a " + polyline(ring) + " 0 ENDBLK";
  const Error in_dxf =
      refusal(dxf("0 INSERT 2 a 70 100 71 100 44 60 45 40", block), DrawingForm::dxf);
  EXPECT_EQ(in_dxf.code, ErrorCode::too_large) << in_dxf.message();
  std::string doubled = "<defs><circle id='u0' cx='40' cy='40' r='30'/>";
  for (int k = 1; k <= 14; ++k) {
    const std::string use = "<use href='#u" + std::to_string(k - 1) + "'/>";
    doubled += "<g id='u" + std::to_string(k) + "'>" + use + use + use + "</g>";
  }
  const Error in_svg = refusal(svg(doubled + "</defs><use href='#u14'/>"), DrawingForm::svg);
  EXPECT_EQ(in_svg.code, ErrorCode::too_large) << in_svg.message();
}

TEST(BadDrawings, EncryptedAndForeignBytesAreNoDrawing) {
  Rng rng(9);
  std::string noise;  // what an encrypted file looks like
  for (int k = 0; k < 4000; ++k) noise += static_cast<char>(rng.below(256));
  const std::string zip = "PK\x03\x04\x14" + noise;
  for (const std::string& bytes :
       {noise, zip, "AC1032" + noise, std::string("%PDF-1.7\n") + noise}) {
    EXPECT_EQ(refusal(bytes, DrawingForm::dxf).where.substr(0, 9), "sent.file");
    EXPECT_EQ(refusal(bytes, DrawingForm::svg).where.substr(0, 9), "sent.file");
  }
}

TEST(BadDrawings, ACutFileIsRefusedOrItsOpenLinesAreReported) {
  const std::string whole = dxf(polyline({{0, 0}, {40, 0}, {40, 30}, {0, 30}}));
  const std::string page = svg("<path d='M0 0 H40 V30 H0 Z'/>");
  for (std::size_t size = 0; size + 12 < whole.size(); ++size) {
    EXPECT_FALSE(draw_pieces(whole.substr(0, size), DrawingForm::dxf, {}, "cut.dxf").has_value())
        << size;
  }
  for (std::size_t size = 0; size < page.size(); ++size) {
    EXPECT_FALSE(draw_pieces(page.substr(0, size), DrawingForm::svg, {}, "cut.svg").has_value())
        << size;
  }
}

}  // namespace
}  // namespace film::workbench
