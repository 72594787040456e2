#include "documents/glass_sheet.h"

#include "base/text.h"
#include "formats/pdf.h"

namespace film::documents {
namespace {

using formats::Align;
using formats::Colour;
using formats::Font;
using formats::PdfCanvas;
using formats::Weight;

constexpr Colour kInk{0x1f, 0x24, 0x29};
constexpr Colour kQuiet{0x5f, 0x68, 0x70};
constexpr Colour kWarn{0x8a, 0x4b, 0x00};
const Font kTitle{20, Weight::bold, false, kInk};
const Font kHeading{12, Weight::bold, false, kInk};
const Font kBody{9, Weight::normal, false, kInk};
const Font kStrong{9, Weight::medium, false, kInk};
const Font kSmall{7.5, Weight::normal, false, kQuiet};
const Font kWarning{8.5, Weight::medium, false, kWarn};

constexpr double kMargin = 16;

/// Text down the page, over to the next where it ends.
class Column {
 public:
  Column(const GlassSheet& sheet, Paper paper)
      : sheet_(sheet),
        canvas_({format("Glass and lamps {}", sheet.job), sheet.shop, sheet.date}),
        width_(paper == Paper::a4 ? 210 : 215.9),
        height_(paper == Paper::a4 ? 297 : 279.4) {
    turn();
  }

  void say(const std::string& text, const Font& font, double after, double indent = 0) {
    if (text.empty()) return;
    const double wide = width_ - 2 * kMargin - indent;
    const double high = canvas_.measure(text, font, Mm{wide}).y;
    if (y_ + high > height_ - kMargin - 6) turn();
    y_ += canvas_.text(text, {kMargin + indent, y_}, font, Mm{wide}) + after;
  }
  /// Starts a new page when less than this is left.
  void keep(double needed) {
    if (y_ + needed > height_ - kMargin - 6) turn();
  }
  void gap(double by) { y_ += by; }
  Result<std::string> finish() { return canvas_.finish(); }

 private:
  void turn() {
    canvas_.begin_page(Mm{width_}, Mm{height_});
    ++page_;
    const double foot = height_ - 10;
    canvas_.text(format("{}   {}", sheet_.shop, sheet_.job), {kMargin, foot}, kSmall);
    canvas_.text(format("{}", page_), {width_ - kMargin, foot}, kSmall, Mm{0}, Align::right);
    y_ = kMargin;
  }

  const GlassSheet& sheet_;
  PdfCanvas canvas_;
  double width_, height_;
  double y_ = 0;
  int page_ = 0;
};

void windows(const GlassSheet& sheet, Column& column) {
  column.say("Windows", kHeading, 2);
  column.say(sheet.place.empty() ? "No place was chosen, so nothing is judged."
                                 : "Held against the table for: " + sheet.place,
             kBody, 2);
  column.say(sheet.no_advice, kWarning, 4);
  for (const GlassLine& line : sheet.windows) {
    column.keep(24);
    column.say(format("{}   {}", line.window, line.film), kStrong, 0.8);
    column.say(format("before: {}", line.before), kBody, 0.6, 4);
    column.say(format("after: {}", line.after), kBody, 0.6, 4);
    column.say(format("{}: {}", line.verdict, line.reason), kBody, 0.6, 4);
    column.say(line.law, kSmall, 0.6, 4);
    column.gap(2.5);
  }
}

void decisions(const GlassSheet& sheet, Column& column) {
  if (sheet.decisions.empty()) return;
  column.gap(4);
  column.keep(40);
  column.say("Signed decisions: lamps, reflectors, sensors", kHeading, 2);
  column.say(sheet.lamp_caution, kWarning, 4);
  for (const SignedLine& line : sheet.decisions) {
    column.keep(12);
    column.say(format("{}   {}: {}", line.panel, line.concern, line.decision), kStrong, 0.6);
    column.say(format("{}, {}. {}", line.signed_by, line.day, line.basis), kBody, 2, 4);
  }
}

}  // namespace

Result<std::string> write_glass_sheet(const GlassSheet& sheet, const WorkOrderOptions& options) {
  Column column(sheet, options.paper);
  column.say(sheet.shop, kStrong, 3);
  column.say("Glass and lamps", kTitle, 2);
  const std::string customer = sheet.customer.empty() ? "" : "   for " + sheet.customer;
  column.say(format("{}   {}   {}   {}{}", sheet.job, sheet.date.substr(0, 10), sheet.title,
                    sheet.vehicle, customer),
             kBody, 8);
  windows(sheet, column);
  decisions(sheet, column);
  column.gap(4);
  column.keep(20);
  column.say(sheet.no_advice, kWarning, 3);
  column.say("Meter readings carry the meter's own uncertainty. Signature and date:", kSmall, 10);
  return column.finish();
}

}  // namespace film::documents
