#include "documents/work_order.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "documents/detail/sheet.h"
#include "documents/detail/words.h"
#include "geometry/overlay.h"

namespace film::documents {
namespace {

using shop::Language;

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

/// Figures in the papers' language and unit.
struct Figures {
  Language in;
  shop::LengthUnit unit;
  std::string operator()(Mm length) const { return length_text(length, unit, in); }
  std::string percent(double share, int digits) const {
    return number_text(100 * share, digits, in) + " %";
  }
};

Figures figures_of(const Sheet& sheet) { return {sheet.language(), sheet.stationery().unit}; }

void front_page(const WorkOrder& order, Sheet& sheet) {
  const Language in = sheet.language();
  const Figures figure = figures_of(sheet);
  sheet.masthead({order.title.empty() ? order.vehicle : order.title});
  double length = 0;
  for (const CutMap& map : order.maps) length += map.length.value;
  const auto bulk = std::count_if(order.cards.begin(), order.cards.end(),
                                  [](const PanelCard& card) { return card.bulk; });
  sheet.facts({{std::string(words::vehicle(in)), order.vehicle},
               {std::string(words::customer(in)), order.customer},
               {std::string(words::date(in)), date_text(order.date, in)},
               {std::string(words::panels(in)), format("{}", order.cards.size())},
               {std::string(words::bulk_sheets(in)), format("{}", bulk)},
               {std::string(words::film_from_rolls(in)), figure(Mm{length})}},
              3);
  sheet.heading(words::before_you_start(in));
  for (const std::string& caution : order.cautions) {
    sheet.keep(8);
    sheet.canvas().text("!", {sheet.left(), sheet.y}, kWarning);
    sheet.say(caution, kBody, 1.5, 5);
  }
  sheet.say(words::reminders(in), kSmall, 6);
  std::vector<TableRow> rows;
  for (const CutMap& map : order.maps) {
    rows.push_back({{map.film, map.roll, format("{}", map.pieces.size()), figure(map.length),
                     figure(map.width), figure.percent(map.waste, 1)}});
  }
  if (rows.empty()) return;
  sheet.heading(words::film(in));
  sheet.table({{std::string(words::film(in)), 4.4},
               {std::string(words::roll(in)), 1.6},
               {std::string(words::pieces(in)), 1.6, Align::right},
               {std::string(words::used(in)), 1.8, Align::right},
               {std::string(words::wide(in)), 1.8, Align::right},
               {std::string(words::waste(in)), 1.8, Align::right}},
              rows);
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

void map_heading(const CutMap& map, Sheet& sheet) {
  const Language in = sheet.language();
  const Figures figure = figures_of(sheet);
  sheet.begin_page();
  sheet.heading(format("{}: {}", words::cut_map(in), map.film));
  sheet.say(format("{}   {} {}   {} {}   {}", map.roll, figure(map.length), words::used(in),
                   words::waste(in), figure.percent(map.waste, 1), words::numbers_are_of_cards(in)),
            kSmall, 4);
}

void map_pages(const CutMap& map, Sheet& sheet) {
  constexpr double kStripHeight = 52;
  constexpr double kBetween = 10;
  const Language in = sheet.language();
  const Figures figure = figures_of(sheet);
  const double step = sheet.width() * map.width.value / kStripHeight;
  sheet.y = sheet.bottom();
  for (double from = 0; from < map.length.value; from += step) {
    if (sheet.y + kStripHeight + 5 > sheet.bottom()) map_heading(map, sheet);
    const double to = std::min(from + step, map.length.value);
    map_strip(sheet.canvas(), map, from, to,
              box_of(sheet.left(), sheet.y, sheet.width(), kStripHeight));
    sheet.canvas().text(format("{} {} {}", figure(Mm{from}), words::to(in), figure(Mm{to})),
                        {sheet.left(), sheet.y + kStripHeight + 1.5}, kSmall);
    sheet.y += kStripHeight + kBetween;
  }
}

/// An arrow with its number at the tip.
void arrow(PdfCanvas& canvas, Vec2 from, Vec2 to, std::size_t number) {
  const double long_enough = std::hypot(to.x - from.x, to.y - from.y);
  if (long_enough < 1) return;
  const Vec2 along = (1 / long_enough) * (to - from);
  const Vec2 across{-along.y, along.x};
  canvas.line(std::vector<Vec2>{from, to}, stroke(kInk, 0.3));
  const Ring head{to, to - 2.2 * along + 0.9 * across, to - 2.2 * along - 0.9 * across};
  canvas.region(std::vector<Ring>{head}, fill(kInk));
  const Font small{.points = 7, .weight = Weight::bold, .colour = kInk};
  canvas.text(format("{}", number), {to.x - 4 * along.x, to.y - 4 * along.y - 1.6}, small, Mm{0},
              Align::centre);
}

void card_picture(const PanelCard& card, std::size_t number, const Figures& figure,
                  const Box& frame, PdfCanvas& canvas) {
  const Font title{.points = 11, .weight = Weight::bold, .colour = kInk};
  canvas.text(format("{}  {}", number, card.title), {frame.low.x + 4, frame.low.y + 3.5}, title,
              Mm{frame.width() - 6});
  Box flat = bounding_box(card.cut);
  flat.add(bounding_box(card.fold));
  const ToPaper place = fitted(
      flat, box_of(frame.low.x + 4, frame.low.y + 14, frame.width() - 8, frame.height() - 22));
  canvas.region(place(card.cut), outlined(kFilm, kKnife, 0.3));
  canvas.region(place(card.fold), stroke(kQuiet, 0.15, 1.2));
  for (const Polyline& slit : card.slits) canvas.line(place(slit), stroke(kWarn, 0.25));
  for (std::size_t i = 0; i < card.pulls.size(); ++i) {
    arrow(canvas, place(card.pulls[i].from), place(card.pulls[i].to), i + 1);
  }
  for (const Vec2 anchor : card.anchors) {
    const Vec2 at = place(anchor);
    canvas.rectangle(box_of(at.x - 1.5, at.y - 1.5, 3, 3), outlined(kWhite, kWarn, 0.6), Mm{1.5});
  }
  canvas.text(format("{} x {}   {}", figure(Mm{flat.width()}), figure(Mm{flat.height()}),
                     words::dashed_is_fold(figure.in)),
              {frame.low.x + 4, frame.high.y - 6}, kSmall);
}

/// Towards where on the vehicle: its two strongest directions.
std::string towards(Vec3 d, Language in) {
  std::vector<std::pair<double, Word>> parts{
      {std::abs(d.x), d.x > 0 ? words::forward : words::backward},
      {std::abs(d.y), d.y > 0 ? words::leftward : words::rightward},
      {std::abs(d.z), d.z > 0 ? words::upward : words::downward}};
  std::sort(parts.begin(), parts.end(),
            [](const auto& a, const auto& b) { return a.first > b.first; });
  std::string text(parts[0].second(in));
  if (parts[1].first > 0.4) text += format(" {}", parts[1].second(in));
  return text;
}

std::vector<std::string> laying_words(const PanelCard& card, const Figures& figure) {
  const Language in = figure.in;
  std::vector<std::string> lines;
  if (!card.anchors.empty()) lines.emplace_back(words::tack_first(in));
  for (std::size_t i = 0; i < card.pulls.size(); ++i) {
    const CardPull& pull = card.pulls[i];
    std::string line =
        format("{}  {} {} {}, {} {}", i + 1, pull.amount < 0 ? words::push(in) : words::pull(in),
               figure(Mm{std::abs(pull.amount)}), towards(pull.direction, in), words::stretch(in),
               number_text(pull.stretch, 2, in));
    if (pull.draws_back >= 0.5) {
      line += format(", {} {}", words::draws_back(in), figure(Mm{pull.draws_back}));
    }
    lines.push_back(std::move(line));
  }
  std::string fate = card.finger_share < 0.0005
                         ? std::string(words::lies_without_fingers(in))
                         : format("{} {} {}", words::fingers_on(in),
                                  figure.percent(card.finger_share, 1), words::of_the_panel(in));
  if (card.peak_stretch > 1.0005) {
    fate += format("; {} {}", words::stretched_up_to(in), number_text(card.peak_stretch, 3, in));
  }
  lines.push_back(std::move(fate));
  if (card.relief_cuts > 0)
    lines.push_back(format("{}: {}", words::relief_cuts(in), card.relief_cuts));
  lines.emplace_back(words::wait_before_tuck(in));
  return lines;
}

std::string method_text(const PanelCard& card, const Figures& figure) {
  if (!card.bulk) return std::string(words::precut(figure.in));
  const Box sheet = bounding_box(card.cut);
  return format("{} {} x {}", words::bulk_sheet(figure.in), figure(Mm{sheet.width()}),
                figure(Mm{sheet.height()}));
}

void card_words(const PanelCard& card, const Figures& figure, const Box& frame, PdfCanvas& canvas) {
  const Font body{.points = 8, .colour = kInk, .tabular = true};
  const Font method{.points = 10, .weight = Weight::bold, .colour = kInk};
  const Font warning{.points = 7.5, .weight = Weight::medium, .colour = kWarn};
  double y = frame.low.y + 4;
  const auto say = [&](std::string_view text, const Font& font, double after) {
    const double height = canvas.measure(text, font, Mm{frame.width()}).y;
    if (text.empty() || y + height > frame.high.y - 8) return;
    canvas.text(text, {frame.low.x, y}, font, Mm{frame.width()});
    y += height + after;
  };
  say(format("{}   {}", card.zone, card.piece), kSmall, 1);
  say(card.film, kStrong, 1);
  say(method_text(card, figure), method, 1);
  for (const std::string& caution : card.cautions) say(caution, warning, 0.8);
  for (const std::string& line : laying_words(card, figure)) say(line, body, 0.7);
  if (figure.in == Language::english) {
    for (const std::string& remark : card.remarks) say(remark, kSmall, 0.6);
  }
  const double foot = frame.high.y - 6;
  canvas.text(words::laid_by(figure.in), {frame.low.x, foot}, kSmall);
  canvas.text(words::at_time(figure.in), {frame.low.x + 0.5 * frame.width(), foot}, kSmall);
  canvas.text(words::tuck_from(figure.in), {frame.low.x + 0.7 * frame.width(), foot}, kSmall);
}

void card_pages(const WorkOrder& order, Sheet& sheet) {
  constexpr std::size_t kPerPage = 3;
  constexpr double kBetween = 4;
  const Figures figure = figures_of(sheet);
  const double height = (sheet.bottom() - sheet.top() - 2 * kBetween) / kPerPage;
  const double picture = 0.46 * sheet.width();
  for (std::size_t i = 0; i < order.cards.size(); ++i) {
    const std::size_t row = i % kPerPage;
    if (row == 0) sheet.begin_page();
    const double top = sheet.top() + static_cast<double>(row) * (height + kBetween);
    PdfCanvas& canvas = sheet.canvas();
    canvas.rectangle(box_of(sheet.left(), top, sheet.width(), height), stroke(kRule, 0.2), Mm{2});
    card_picture(order.cards[i], i + 1, figure, box_of(sheet.left(), top, picture, height), canvas);
    card_words(order.cards[i], figure,
               box_of(sheet.left() + picture + 2, top, sheet.width() - picture - 5, height),
               canvas);
  }
}

}  // namespace

Result<std::string> write_work_order(const WorkOrder& order, const Stationery& stationery) {
  const Language in = stationery.head.language;
  const PaperTitle title{format("{} {}", words::work_order(in), order.job), "", order.date,
                         link_to(stationery, "jobs/" + order.job)};
  return composed(stationery, title, [&](Sheet& sheet) {
    front_page(order, sheet);
    for (const CutMap& map : order.maps) map_pages(map, sheet);
    card_pages(order, sheet);
  });
}

}  // namespace film::documents
