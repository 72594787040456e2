#include "documents/detail/sheet.h"

#include <algorithm>
#include <iterator>

#include "base/text.h"
#include "documents/detail/words.h"

namespace film::documents {
namespace {

constexpr double kCode = 24;    // mm, a QR code with its quiet zone
constexpr double kCellGap = 3;  // between columns
constexpr double kRowPadding = 1.5;

}  // namespace

Sheet::Sheet(const Stationery& stationery, PaperTitle title, int pages)
    : stationery_(stationery),
      title_(std::move(title)),
      of_(pages),
      width_(stationery.head.paper == shop::PaperSize::a4 ? 210 : 215.9),
      height_(stationery.head.paper == shop::PaperSize::a4 ? 297 : 279.4),
      canvas_({title_.title, stationery.shop, title_.date}) {}

void Sheet::begin_page() {
  canvas_.begin_page(Mm{width_}, Mm{height_});
  ++page_;
  y = top();
  const shop::Language in = language();
  const double foot = height_ - 12;
  const std::string what = title_.title == title_.reference || title_.reference.empty()
                               ? title_.title
                               : format("{}   {}", title_.title, title_.reference);
  canvas_.text(format("{}   {}", stationery_.shop, what), {left(), foot}, kSmall);
  canvas_.text(format("{} {} {} {}", words::page(in), page_, words::of(in), of_), {right(), foot},
               kSmall, Mm{0}, Align::right);
}

double Sheet::letterhead() {
  constexpr double kLogoHigh = 13;
  const Font name{.points = 13, .weight = Weight::bold, .colour = kInk};
  double lines = y;
  for (const std::string& line : stationery_.head.lines) {
    lines += canvas_.text(line, {right(), lines}, kSmall, Mm{0}, Align::right) + 0.3;
  }
  double under = y;
  if (!stationery_.logo.empty()) {
    // A logo that cannot be read is left out; the shop's name stands there all the same.
    if (canvas_.picture(stationery_.logo, box_of(left(), y, 60, kLogoHigh))) under += kLogoHigh + 2;
  }
  under += canvas_.text(stationery_.shop, {left(), under}, name);
  const double end = std::max(lines, under) + 3;
  canvas_.line(std::vector<Vec2>{{left(), end}, {right(), end}}, stroke(kKnife, 0.5));
  return end + 7;
}

void Sheet::masthead(const std::vector<std::string>& lines) {
  if (page_ == 0) begin_page();
  y = letterhead();
  const double from = y;
  const bool code = !title_.link.empty();
  if (code) {
    // A link too long for a code is left out; the reference still finds the record.
    (void)canvas_.qr_code(title_.link, {right() - kCode + 2, y - 4}, Mm{kCode});
  }
  const double wide = width() - (code ? kCode + 4 : 0);
  y += canvas_.text(title_.title, {left(), y}, kTitle, Mm{wide}) + 2;
  for (const std::string& line : lines) {
    if (!line.empty()) y += canvas_.text(line, {left(), y}, kBody, Mm{wide}) + 0.8;
  }
  y = std::max(y, code ? from + kCode - 6 : 0.0) + 6;
}

void Sheet::keep(double needed) {
  if (y + needed > bottom()) begin_page();
}

void Sheet::heading(std::string_view text, double together) {
  keep(together);
  y += canvas_.text(text, {left(), y}, kHeading, Mm{width()}) + 2;
}

void Sheet::say(std::string_view text, const Font& font, double after, double indent) {
  if (text.empty()) return;
  const Mm wide{width() - indent};
  keep(canvas_.measure(text, font, wide).y);
  y += canvas_.text(text, {left() + indent, y}, font, wide) + after;
}

void Sheet::rule() {
  canvas_.line(std::vector<Vec2>{{left(), y}, {right(), y}}, stroke(kRule, 0.2));
}

void Sheet::facts(const std::vector<std::pair<std::string, std::string>>& given, int columns) {
  std::vector<std::pair<std::string, std::string>> facts;
  std::copy_if(given.begin(), given.end(), std::back_inserter(facts),
               [](const auto& fact) { return !fact.second.empty(); });
  const double wide = width() / columns;
  std::size_t i = 0;
  while (i < facts.size()) {
    double high = 0;
    keep(12);
    for (int column = 0; column < columns && i < facts.size(); ++column, ++i) {
      const double x = left() + column * wide;
      double used = canvas_.text(facts[i].first, {x, y}, kSmall, Mm{wide - kCellGap}) + 0.4;
      used += canvas_.text(facts[i].second, {x, y + used}, kStrong, Mm{wide - kCellGap});
      high = std::max(high, used);
    }
    y += high + 2.5;
  }
  y += 2;
}

double Sheet::row_height(const std::vector<TableColumn>& columns, const TableRow& row) const {
  double high = 0;
  for (std::size_t i = 0; i < columns.size() && i < row.cells.size(); ++i) {
    const Mm wide{columns[i].share * width() - kCellGap};
    double cell = canvas_.measure(row.cells[i], row.strong ? kStrong : kBody, wide).y;
    if (i == 0 && !row.note.empty()) cell += canvas_.measure(row.note, kSmall, wide).y + 0.5;
    high = std::max(high, cell);
  }
  return high + 2 * kRowPadding;
}

void Sheet::table_row(const std::vector<TableColumn>& columns, const TableRow& row,
                      const Font& font) {
  const double high = row_height(columns, row);
  double x = left();
  for (std::size_t i = 0; i < columns.size() && i < row.cells.size(); ++i) {
    const double wide = columns[i].share * width() - kCellGap;
    const double used =
        canvas_.text(row.cells[i], {x, y + kRowPadding}, font, Mm{wide}, columns[i].align);
    if (i == 0) canvas_.text(row.note, {x, y + kRowPadding + used + 0.5}, kSmall, Mm{wide});
    x += wide + kCellGap;
    if (i + 2 == columns.size()) x += kCellGap;  // the last column ends at the margin
  }
  y += high;
}

void Sheet::table(const std::vector<TableColumn>& given, const std::vector<TableRow>& rows) {
  std::vector<TableColumn> columns = given;
  double all = 0;
  for (const TableColumn& column : columns) all += column.share;
  for (TableColumn& column : columns) column.share /= all;
  TableRow head;
  for (const TableColumn& column : columns) head.cells.push_back(column.title);
  const auto begin = [&] {
    table_row(columns, head, kSmall);
    canvas_.line(std::vector<Vec2>{{left(), y}, {right(), y}}, stroke(kInk, 0.3));
  };
  if (!rows.empty()) keep(row_height(columns, head) + row_height(columns, rows.front()) + 4);
  begin();
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const TableRow& row = rows[i];
    // A sum does not stand alone on a new page.
    const bool sum_follows = i + 1 < rows.size() && rows[i + 1].strong && !row.strong;
    const double needed =
        row_height(columns, row) + (sum_follows ? row_height(columns, rows[i + 1]) : 0);
    if (y + needed > bottom()) {
      begin_page();
      begin();
    }
    table_row(columns, row, row.strong ? kStrong : kBody);
    rule();
  }
  y += 5;
}

void Sheet::signatures(const std::vector<std::string>& labels) {
  keep(24);
  y += 14;
  const double wide = width() / std::max(2.0, static_cast<double>(labels.size()));
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const double x = left() + static_cast<double>(i) * wide;
    canvas_.line(std::vector<Vec2>{{x, y}, {x + wide - 8, y}}, stroke(kInk, 0.25));
    canvas_.text(labels[i], {x, y + 1}, kSmall, Mm{wide - 8});
  }
  y += 9;
}

}  // namespace film::documents
