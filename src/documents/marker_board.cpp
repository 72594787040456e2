#include "documents/marker_board.h"

#include "base/text.h"
#include "digitise/board.h"
#include "formats/pdf.h"

namespace film::documents {
namespace {

using digitise::kCells;
using formats::Font;
using formats::PdfCanvas;
using formats::Style;

constexpr formats::Colour kBlack{};
constexpr formats::Colour kGrey{90, 90, 90};
constexpr double kThin = 0.2;  // mm

/// From the sheet frame (middle of the page, y up) to the page (top left, y down).
struct OnPage {
  Vec2 middle;
  Vec2 operator()(Vec2 p) const { return {middle.x + p.x, middle.y - p.y}; }
};

/// A row's black cells side by side are one rectangle, and rows overlap a hair, lest seams show.
void draw_marker(PdfCanvas& canvas, const OnPage& place, int marker) {
  const digitise::MarkerCells cells = digitise::marker_cells(marker);
  const Vec2 corner = place(digitise::marker_corners(marker)[3]);
  constexpr double kCell = digitise::kMarkerSide / kCells;
  constexpr double kOverlap = 0.02;  // mm
  for (int y = 0; y < kCells; ++y) {
    const auto& row = cells[static_cast<std::size_t>(y)];
    for (int x = 0; x < kCells; ++x) {
      if (!row[static_cast<std::size_t>(x)]) continue;
      int end = x;
      while (end < kCells && row[static_cast<std::size_t>(end)]) ++end;
      const Vec2 a = corner + Vec2{x * kCell, y * kCell};
      const bool last = y + 1 == kCells;
      const Vec2 b = corner + Vec2{end * kCell, (y + 1) * kCell + (last ? 0 : kOverlap)};
      canvas.rectangle({a, b}, {std::nullopt, kBlack, Mm{0}, Mm{0}});
      x = end;
    }
  }
}

/// A ruler with its end ticks: `along` is a unit vector, `up` that of the side its ticks point to.
void draw_check_line(PdfCanvas& canvas, const OnPage& place, Vec2 from, Vec2 along, Vec2 up,
                     double length) {
  const Style style{kBlack, std::nullopt, Mm{kThin}, Mm{0}};
  canvas.line(std::vector<Vec2>{place(from), place(from + length * along)}, style);
  for (double mm = 0; mm <= length; mm += 10) {
    const bool end = mm == 0 || mm == length;
    const Vec2 at = from + mm * along;
    canvas.line(
        std::vector<Vec2>{place(at - (end ? 2.0 : 0.0) * up), place(at + (end ? 4 : 1.5) * up)},
        style);
  }
}

void draw_sheet(PdfCanvas& canvas, const OnPage& place, int sheet, int sheets) {
  for (int k = 0; k < digitise::kMarkersOnSheet; ++k) {
    draw_marker(canvas, place, digitise::marker_id(sheet, k));
  }
  draw_check_line(canvas, place, digitise::kLongCheckFrom, {0, 1}, {1, 0},
                  digitise::kLongCheckLine);
  draw_check_line(canvas, place, digitise::kShortCheckFrom, {1, 0}, {0, -1},
                  digitise::kShortCheckLine);
  canvas.text(format("{}", sheet + 1), place({-86, 134}),
              {.points = 30, .weight = formats::Weight::bold});
  canvas.text(
      format(
          "Marker board, sheet {} of {}. Print at 100 %, without \"fit to page\". Lay the sheets "
          "flat and apart, all round the template, none under it or on it. Sheet 1 reads along "
          "the film's grain.",
          sheet + 1, sheets),
      place({-68, 134}), {.points = 8, .colour = kGrey}, Mm{150});
  canvas.text(format("Check lines: {:.0f} mm from end to end here, {:.0f} mm up the right side. "
                     "Measure both with a steel rule, to 0.2 mm.",
                     digitise::kShortCheckLine, digitise::kLongCheckLine),
              place({-90, -118.5}), {.points = 8, .colour = kGrey}, Mm{165});
}

}  // namespace

Result<std::string> write_marker_board(const MarkerBoardOptions& options) {
  if (options.sheets < 1 || options.sheets > digitise::kMostSheets) {
    return fail(ErrorCode::invalid_input, format("a board has 1 to {} sheets, not {}",
                                                 digitise::kMostSheets, options.sheets));
  }
  const Vec2 page = options.paper == shop::PaperSize::a4 ? Vec2{210, 297} : Vec2{215.9, 279.4};
  PdfCanvas canvas({"Marker board", "", "2000-01-01T00:00:00Z"});
  for (int sheet = 0; sheet < options.sheets; ++sheet) {
    canvas.begin_page(Mm{page.x}, Mm{page.y});
    draw_sheet(canvas, OnPage{0.5 * page}, sheet, options.sheets);
  }
  return canvas.finish();
}

}  // namespace film::documents
