#include "documents/work_order.h"

#include <algorithm>

#include "base/text.h"
#include "formats/pdf.h"
#include "geometry/overlay.h"

namespace film::documents {
namespace {

using formats::Align;
using formats::Colour;
using formats::Font;
using formats::PdfCanvas;
using formats::Style;
using formats::Weight;

constexpr Colour kInk{0x1f, 0x24, 0x29};
constexpr Colour kQuiet{0x5f, 0x68, 0x70};
constexpr Colour kRule{0xc9, 0xce, 0xd2};
constexpr Colour kPaper{0xf4, 0xf1, 0xea};
constexpr Colour kFilm{0xdc, 0xe8, 0xe6};
constexpr Colour kKnife{0x0f, 0x5c, 0x63};
constexpr Colour kWarn{0x8a, 0x4b, 0x00};
constexpr Colour kWhite{0xff, 0xff, 0xff};

const Font kTitle{22, Weight::bold, false, kInk};
const Font kHeading{13, Weight::bold, false, kInk};
const Font kBody{9, Weight::normal, false, kInk};
const Font kStrong{9, Weight::medium, false, kInk};
const Font kSmall{7.5, Weight::normal, false, kQuiet};
const Font kWarning{8, Weight::normal, false, kWarn};

Style stroke(Colour colour, double width, double dash = 0) {
  Style style;
  style.stroke = colour;
  style.width = Mm{width};
  style.dash = Mm{dash};
  return style;
}

Style fill(Colour colour) {
  Style style;
  style.stroke.reset();
  style.fill = colour;
  return style;
}

Style outlined(Colour inside, Colour edge, double width) {
  Style style = stroke(edge, width);
  style.fill = inside;
  return style;
}

Box box_of(double left, double top, double width, double height) {
  return Box{{left, top}, {left + width, top + height}};
}

/// Page after page with the same frame: margins, foot with shop, job and page number.
class Pages {
 public:
  Pages(const WorkOrder& order, const WorkOrderOptions& options)
      : order_(order),
        canvas_({format("Work order {}", order.job), order.shop, order.date}),
        width_(options.paper == Paper::a4 ? 210 : 215.9),
        height_(options.paper == Paper::a4 ? 297 : 279.4) {}

  static constexpr double kMargin = 16;

  void begin() {
    canvas_.begin_page(Mm{width_}, Mm{height_});
    ++number_;
    const double foot = height_ - 10;
    canvas_.text(format("{}   {}", order_.shop, order_.job), {left(), foot}, kSmall);
    canvas_.text(format("{}", number_), {right(), foot}, kSmall, Mm{0}, Align::right);
  }

  PdfCanvas& canvas() { return canvas_; }
  [[nodiscard]] double left() const { return kMargin; }
  [[nodiscard]] double top() const { return kMargin; }
  [[nodiscard]] double right() const { return width_ - kMargin; }
  [[nodiscard]] double bottom() const { return height_ - kMargin; }
  [[nodiscard]] double width() const { return width_ - 2 * kMargin; }
  [[nodiscard]] double paper_width() const { return width_; }

 private:
  const WorkOrder& order_;
  PdfCanvas canvas_;
  double width_, height_;
  int number_ = 0;
};

/// Flat film (y up) to paper (y down): `origin` of the film comes to `at`.
struct ToPaper {
  Vec2 origin;
  Vec2 at;
  double scale;

  [[nodiscard]] Vec2 operator()(Vec2 p) const {
    const Vec2 d = scale * (p - origin);
    return {at.x + d.x, at.y - d.y};
  }
  [[nodiscard]] Ring operator()(const Ring& ring) const {
    Ring moved;
    moved.reserve(ring.size());
    for (const Vec2 p : ring) moved.push_back((*this)(p));
    return moved;
  }
  [[nodiscard]] std::vector<Ring> operator()(const Polygon& polygon) const {
    std::vector<Ring> rings{(*this)(polygon.outer)};
    for (const Ring& hole : polygon.holes) rings.push_back((*this)(hole));
    return rings;
  }
};

ToPaper fitted(const Box& flat, const Box& frame) {
  const double scale = std::min(frame.width() / std::max(flat.width(), 1e-9),
                                frame.height() / std::max(flat.height(), 1e-9));
  return {flat.centre(), frame.centre(), scale};
}

void figure(PdfCanvas& canvas, std::string_view label, std::string_view value, Vec2 at) {
  canvas.text(label, at, kSmall);
  canvas.text(value, {at.x, at.y + 4}, kHeading);
}

void masthead(const WorkOrder& order, Pages& pages) {
  constexpr double kCode = 30;
  PdfCanvas& canvas = pages.canvas();
  canvas.rectangle(box_of(0, 0, pages.paper_width(), 62), fill(kPaper));
  double y = pages.top();
  y += canvas.text(order.shop, {pages.left(), y}, kStrong) + 6;
  y += canvas.text(order.title.empty() ? order.vehicle : order.title, {pages.left(), y}, kTitle,
                   Mm{pages.width() - kCode - 6}) +
       3;
  const std::string customer = order.customer.empty() ? "" : "   for " + order.customer;
  canvas.text(format("Work order {}   {}   {}{}", order.job, order.date.substr(0, 10),
                     order.vehicle, customer),
              {pages.left(), y}, kBody);
  if (!order.address.empty()) {
    // An address too long for a code is left out; the job's number still finds the record.
    (void)canvas.qr_code(order.address, {pages.right() - kCode, pages.top()}, Mm{kCode});
  }
}

double totals(const WorkOrder& order, const WorkOrderOptions& options, Pages& pages, double y) {
  double length = 0;
  for (const CutMap& map : order.maps) length += map.length.value;
  const auto bulk = std::count_if(order.cards.begin(), order.cards.end(),
                                  [](const PanelCard& card) { return card.bulk; });
  const double column = pages.width() / 4;
  PdfCanvas& canvas = pages.canvas();
  figure(canvas, "Panels", format("{}", order.cards.size()), {pages.left(), y});
  figure(canvas, "of them bulk sheets", format("{}", bulk), {pages.left() + column, y});
  figure(canvas, "Film from the rolls", length_text(Mm{length}, options.unit),
         {pages.left() + 2 * column, y});
  figure(canvas, "Rolls", format("{}", order.maps.size()), {pages.left() + 3 * column, y});
  return y + 24;
}

double cautions(const WorkOrder& order, Pages& pages, double y) {
  PdfCanvas& canvas = pages.canvas();
  y += canvas.text("Before you start", {pages.left(), y}, kHeading) + 2;
  for (const std::string& caution : order.cautions) {
    canvas.text("!", {pages.left(), y}, kWarning);
    y += canvas.text(caution, {pages.left() + 5, y}, kBody, Mm{pages.width() - 5}) + 1.5;
  }
  return y + 10 +
         canvas.text("These are reminders. Local code and licensed practice decide.",
                     {pages.left(), y + 2}, kSmall);
}

void film_list(const WorkOrder& order, const WorkOrderOptions& options, Pages& pages, double y) {
  PdfCanvas& canvas = pages.canvas();
  y += canvas.text("Film", {pages.left(), y}, kHeading) + 3;
  const double column = pages.width() / 10;
  for (const CutMap& map : order.maps) {
    canvas.line(std::vector<Vec2>{{pages.left(), y}, {pages.right(), y}}, stroke(kRule, 0.2));
    y += 2;
    canvas.text(map.film, {pages.left(), y}, kStrong, Mm{3.8 * column});
    canvas.text(map.roll, {pages.left() + 4 * column, y}, kBody);
    canvas.text(format("{} pieces", map.pieces.size()), {pages.left() + 5.4 * column, y}, kBody);
    y += canvas.text(format("{} of {} wide, waste {:.1f} %", length_text(map.length, options.unit),
                            length_text(map.width, options.unit), 100 * map.waste),
                     {pages.right(), y}, kBody, Mm{0}, Align::right) +
         2;
  }
}

void front_page(const WorkOrder& order, const WorkOrderOptions& options, Pages& pages) {
  pages.begin();
  masthead(order, pages);
  double y = totals(order, options, pages, 74);
  y = cautions(order, pages, y);
  film_list(order, options, pages, y);
}

/// The part of the roll from `from` to `to` mm. A piece's number stands where its middle lies.
void map_strip(PdfCanvas& canvas, const CutMap& map, double from, double to, const Box& frame) {
  const double scale = frame.height() / map.width.value;
  canvas.rectangle(box_of(frame.low.x, frame.low.y, (to - from) * scale, frame.height()),
                   outlined(kWhite, kRule, 0.2));
  const ToPaper place{{from, 0}, {frame.low.x, frame.high.y}, scale};
  const Polygon window{{{from, 0}, {to, 0}, {to, map.width.value}, {from, map.width.value}}, {}};
  for (const MapPiece& piece : map.pieces) {
    const Box extent = bounding_box(piece.outline);
    if (extent.high.x < from || extent.low.x > to) continue;
    const bool whole = extent.low.x >= from && extent.high.x <= to;
    for (const Polygon& part : whole ? std::vector{piece.outline} : common(piece.outline, window)) {
      canvas.region(place(part), outlined(kFilm, kKnife, 0.15));
    }
    if (extent.centre().x < from || extent.centre().x >= to) continue;
    const double room = std::min(extent.width(), extent.height()) * scale;
    const Font font{std::clamp(room * 1.4, 3.5, 8.0), Weight::medium, false, kInk};
    const Vec2 centre = place(extent.centre());
    canvas.text(format("{}", piece.number), {centre.x, centre.y - font.points * 0.2}, font, Mm{0},
                Align::centre);
  }
}

double map_heading(const CutMap& map, const WorkOrderOptions& options, Pages& pages) {
  pages.begin();
  double y = pages.top();
  y += pages.canvas().text(format("Cut map: {}", map.film), {pages.left(), y}, kHeading) + 1;
  y += pages.canvas().text(format("{}   {} used   waste {:.1f} %   numbers are those of the cards",
                                  map.roll, length_text(map.length, options.unit), 100 * map.waste),
                           {pages.left(), y}, kSmall);
  return y + 5;
}

void map_pages(const CutMap& map, const WorkOrderOptions& options, Pages& pages) {
  constexpr double kStripHeight = 52;
  constexpr double kBetween = 10;
  const double step = pages.width() * map.width.value / kStripHeight;
  double y = pages.bottom() + 1;
  for (double from = 0; from < map.length.value; from += step) {
    if (y + kStripHeight > pages.bottom()) y = map_heading(map, options, pages);
    const double to = std::min(from + step, map.length.value);
    map_strip(pages.canvas(), map, from, to, box_of(pages.left(), y, pages.width(), kStripHeight));
    pages.canvas().text(
        format("{} to {}", length_text(Mm{from}, options.unit), length_text(Mm{to}, options.unit)),
        {pages.left(), y + kStripHeight + 1.5}, kSmall);
    y += kStripHeight + kBetween;
  }
}

void card_picture(const PanelCard& card, std::size_t number, const WorkOrderOptions& options,
                  const Box& frame, PdfCanvas& canvas) {
  canvas.text(format("{}  {}", number, card.title), {frame.low.x + 5, frame.low.y + 4}, kHeading,
              Mm{frame.width() - 8});
  Box flat = bounding_box(card.cut);
  flat.add(bounding_box(card.fold));
  const ToPaper place = fitted(
      flat, box_of(frame.low.x + 5, frame.low.y + 16, frame.width() - 10, frame.height() - 28));
  canvas.region(place(card.cut), outlined(kFilm, kKnife, 0.3));
  canvas.region(place(card.fold), stroke(kQuiet, 0.15, 1.2));
  for (const Polyline& slit : card.slits) canvas.line(place(slit), stroke(kWarn, 0.25));
  canvas.text(format("{} x {}   dashed: fold line", length_text(Mm{flat.width()}, options.unit),
                     length_text(Mm{flat.height()}, options.unit)),
              {frame.low.x + 5, frame.high.y - 7}, kSmall);
}

void card_words(const PanelCard& card, const Box& frame, PdfCanvas& canvas) {
  double y = frame.low.y + 5;
  const auto say = [&](std::string_view text, const Font& font, double after) {
    const double height = canvas.measure(text, font, Mm{frame.width()}).y;
    if (text.empty() || y + height > frame.high.y - 9) return;
    canvas.text(text, {frame.low.x, y}, font, Mm{frame.width()});
    y += height + after;
  };
  say(format("{}   {}", card.zone, card.piece), kSmall, 1.5);
  say(card.film, kStrong, 1.5);
  say(card.method, kHeading, 1.5);
  for (const std::string& caution : card.cautions) say(caution, kWarning, 1);
  for (const std::string& reason : card.reasons) say(reason, kBody, 1);
  say(card.stretch, kBody, 1);
  canvas.text("Laid by", {frame.low.x, frame.high.y - 7}, kSmall);
  canvas.text("at", {frame.low.x + 0.45 * frame.width(), frame.high.y - 7}, kSmall);
  canvas.text("tuck from", {frame.low.x + 0.7 * frame.width(), frame.high.y - 7}, kSmall);
}

void card_pages(const WorkOrder& order, const WorkOrderOptions& options, Pages& pages) {
  constexpr std::size_t kPerPage = 3;
  constexpr double kBetween = 5;
  const double height = (pages.bottom() - pages.top() - 2 * kBetween) / kPerPage;
  const double picture = 0.46 * pages.width();
  for (std::size_t i = 0; i < order.cards.size(); ++i) {
    const std::size_t row = i % kPerPage;
    if (row == 0) pages.begin();
    const double top = pages.top() + static_cast<double>(row) * (height + kBetween);
    PdfCanvas& canvas = pages.canvas();
    canvas.rectangle(box_of(pages.left(), top, pages.width(), height), stroke(kRule, 0.2), Mm{2});
    card_picture(order.cards[i], i + 1, options, box_of(pages.left(), top, picture, height),
                 canvas);
    card_words(order.cards[i],
               box_of(pages.left() + picture + 2, top, pages.width() - picture - 6, height),
               canvas);
  }
}

}  // namespace

std::string length_text(Mm length, shop::LengthUnit unit) {
  if (unit == shop::LengthUnit::inch) return format("{:.1f} in", length.inches());
  if (length.value >= 10000) return format("{:.2f} m", length.value / 1000);
  return format("{:.0f} mm", length.value);
}

Result<std::string> write_work_order(const WorkOrder& order, const WorkOrderOptions& options) {
  Pages pages(order, options);
  front_page(order, options, pages);
  for (const CutMap& map : order.maps) map_pages(map, options, pages);
  card_pages(order, options, pages);
  return pages.canvas().finish();
}

}  // namespace film::documents
