#include "formats/pdf.h"

#include <array>
#include <cstdio>
#include <fstream>

#include <gtest/gtest.h>

namespace film::formats {
namespace {

const PdfTitle kTitle{"Work order", "The shop", "2031-05-04T10:00:00Z"};

/// What a program of poppler-utils, which shares nothing with ours, says about the PDF.
std::string ask(const std::string& program, const std::string& pdf, const std::string& after = "") {
  const std::string path = FILM_BINARY_DIR "/pdf_test.pdf";
  std::ofstream(path, std::ios::binary) << pdf;
  std::string out;
  FILE* pipe = ::popen((program + " " + path + " " + after + " 2>&1").c_str(), "r");
  if (pipe == nullptr) return out;
  std::array<char, 4096> buffer{};
  for (std::size_t n = 0; (n = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
    out.append(buffer.data(), n);
  }
  ::pclose(pipe);
  return out;
}

std::string two_pages() {
  PdfCanvas canvas(kTitle);
  canvas.begin_page(Mm{210}, Mm{297});
  const double height = canvas.text("Hood, front edge tucked round the lip", {20, 20},
                                    {.points = 12, .weight = Weight::bold}, Mm{40});
  EXPECT_GT(height, 2 * 12 * 0.3528);  // wrapped at 40 mm: more than one line of 12 pt
  canvas.rectangle({{20, 60}, {90, 80}}, {Colour{}, Colour{230, 240, 255}, Mm{0.3}, Mm{0}}, Mm{3});
  EXPECT_TRUE(canvas.qr_code("job J-0001", {150, 20}, Mm{30}));
  canvas.begin_page(Mm{297}, Mm{210});
  canvas.text("Zweite Seite: Tür links", {148.5, 20}, {}, Mm{0}, Align::centre);
  return canvas.finish().value();
}

TEST(PdfCanvas, WritesPagesAndTextThatPopplerReads) {
  const std::string pdf = two_pages();
  const std::string info = ask("pdfinfo -f 1 -l 2", pdf);
  EXPECT_NE(info.find("Pages:           2"), std::string::npos) << info;
  EXPECT_NE(info.find("Title:           Work order"), std::string::npos) << info;
  EXPECT_NE(info.find("Page    1 size:  595.276 x 841.89"), std::string::npos) << info;
  EXPECT_NE(info.find("Page    2 size:  841.89 x 595.276"), std::string::npos) << info;
  const std::string text = ask("pdftotext -layout", pdf, "-");
  EXPECT_NE(text.find("Zweite Seite: Tür links"), std::string::npos) << text;
  EXPECT_NE(ask("pdffonts", pdf).find("Inter"), std::string::npos);
}

TEST(PdfCanvas, SamePaperSameBytes) { EXPECT_EQ(two_pages(), two_pages()); }

TEST(PdfCanvas, MeasuresWhatItSets) {
  const PdfCanvas canvas(kTitle);
  const Vec2 one = canvas.measure("width", {.points = 10});
  const Vec2 two = canvas.measure("width", {.points = 20});
  EXPECT_NEAR(two.x / one.x, 2, 0.05);
  EXPECT_GT(canvas.measure("many words that do not fit one line", {}, Mm{20}).y, 2 * one.y);
}

TEST(PdfCanvas, SetsBytesThatAreNoText) {
  PdfCanvas canvas(kTitle);
  canvas.begin_page(Mm{100}, Mm{100});
  canvas.text("bad \xff\xfe bytes", {10, 10}, {});
  EXPECT_TRUE(canvas.finish());
}

TEST(PdfCanvas, RefusesMoreThanAQrCodeHolds) {
  PdfCanvas canvas(kTitle);
  canvas.begin_page(Mm{100}, Mm{100});
  EXPECT_EQ(canvas.qr_code(std::string(4000, 'x'), {0, 0}, Mm{30}).error().code,
            ErrorCode::too_large);
}

TEST(WritePdf, HasTheSizeOfTheDrawingOnAsManyPagesAsThatTakes) {
  Drawing drawing;
  drawing.layers.emplace_back().regions = {{{{0, 0}, {254, 0}, {254, 127}, {0, 127}}, {}}};
  const auto pdf = write_pdf(drawing, kTitle);
  ASSERT_TRUE(pdf);
  EXPECT_NE(ask("pdfinfo", *pdf).find("Page size:       720 x 360 pts"), std::string::npos);
  drawing.page = Box{{0, 0}, {6000, 100}};
  const std::string two = ask("pdfinfo -f 2 -l 2", write_pdf(drawing, kTitle).value());
  EXPECT_NE(two.find("Pages:           2"), std::string::npos) << two;
  EXPECT_NE(two.find("Page    2 size:  8503.94 x 283.465"), std::string::npos) << two;
  drawing.page = Box{{0, 0}, {100, 6000}};
  EXPECT_EQ(write_pdf(drawing, kTitle).error().code, ErrorCode::too_large);
}

}  // namespace
}  // namespace film::formats
