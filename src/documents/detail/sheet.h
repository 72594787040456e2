#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result.h"
#include "documents/detail/house.h"
#include "documents/stationery.h"

namespace film::documents {

struct TableColumn {
  std::string title;
  double share = 1;  ///< of the width
  Align align = Align::left;
};

/// One row of a table; a strong one stands out, as sums do.
struct TableRow {
  std::vector<std::string> cells;
  bool strong = false;
  std::string note{};  ///< small, under the first cell; may be empty
};

/// What a paper is called, on its first page, in its foot and in the file.
struct PaperTitle {
  std::string title;      ///< "Certificate W-0001"
  std::string reference;  ///< "J-0007", for the foot
  std::string date;       ///< RFC 3339
  std::string link;       ///< for the QR code; empty: none
};

/// Pages of one paper with a cursor that goes down them and over to the next: margins, foot with
/// shop, reference and "page 2 of 5". Lengths in mm from the top left corner.
class Sheet {
 public:
  /// `pages` is how many there will be, for the feet.
  Sheet(const Stationery& stationery, PaperTitle title, int pages);

  void begin_page();
  /// The letterhead, the paper's title with its QR code, and lines under it.
  void masthead(const std::vector<std::string>& lines);

  /// A heading that stays with at least `together` mm of what follows.
  void heading(std::string_view text, double together = 16);
  /// Text across the width less `indent`, over to the next page where it ends.
  void say(std::string_view text, const Font& font = kBody, double after = 1.5, double indent = 0);
  /// Names and values in so many columns; what has no value is left out.
  void facts(const std::vector<std::pair<std::string, std::string>>& facts, int columns = 2);
  /// The head is repeated on each page.
  void table(const std::vector<TableColumn>& columns, const std::vector<TableRow>& rows);
  /// Lines to sign on, beside each other, each with what it is for.
  void signatures(const std::vector<std::string>& labels);
  /// Starts a new page when less than `needed` is left.
  void keep(double needed);
  void gap(double by) { y += by; }
  void rule();

  [[nodiscard]] double left() const { return kMargin; }
  [[nodiscard]] double top() const { return kMargin; }
  [[nodiscard]] double right() const { return width_ - kMargin; }
  [[nodiscard]] double bottom() const { return height_ - kMargin - 4; }
  [[nodiscard]] double width() const { return width_ - 2 * kMargin; }
  [[nodiscard]] int pages() const { return page_; }
  [[nodiscard]] const Stationery& stationery() const { return stationery_; }
  [[nodiscard]] shop::Language language() const { return stationery_.head.language; }
  PdfCanvas& canvas() { return canvas_; }
  Result<std::string> finish() { return canvas_.finish(); }

  double y = 0;  ///< the cursor

 private:
  static constexpr double kMargin = 18;

  double letterhead();
  double row_height(const std::vector<TableColumn>& columns, const TableRow& row) const;
  void table_row(const std::vector<TableColumn>& columns, const TableRow& row, const Font& font);

  const Stationery& stationery_;
  const PaperTitle title_;
  const int of_;
  double width_, height_;
  PdfCanvas canvas_;
  int page_ = 0;
};

/// Draws twice: once to count the pages, once for good. Errors: io, too_large (from the PDF
/// writer).
template <class Draw>
Result<std::string> composed(const Stationery& stationery, const PaperTitle& title, Draw draw) {
  Sheet trial(stationery, title, 0);
  draw(trial);
  Sheet sheet(stationery, title, trial.pages());
  draw(sheet);
  return sheet.finish();
}

}  // namespace film::documents
