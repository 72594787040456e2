#include "formats/csv.h"

#include "base/text.h"

namespace film::formats {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

/// Whether a spreadsheet could take the cell for a formula, apostrophes before it left aside.
bool is_formula(std::string_view cell) {
  const std::size_t sign = cell.find_first_not_of('\'');
  return sign != std::string_view::npos &&
         std::string_view("=+-@\t\r").find(cell[sign]) != std::string_view::npos;
}

/// The length of the UTF-8 sequence at `at`, 0 when there is none (RFC 3629, section 4).
std::size_t sequence_at(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t k) {
    return at + k < text.size() ? static_cast<unsigned char>(text[at + k]) : 0u;
  };
  const auto tail = [&](std::size_t k, unsigned low = 0x80, unsigned high = 0xBF) {
    return byte(k) >= low && byte(k) <= high;
  };
  const unsigned lead = byte(0);
  if (lead < 0x80) return 1;
  if (lead >= 0xC2 && lead <= 0xDF) return tail(1) ? 2 : 0;
  if (lead == 0xE0) return tail(1, 0xA0) && tail(2) ? 3 : 0;
  if (lead == 0xED) return tail(1, 0x80, 0x9F) && tail(2) ? 3 : 0;
  if (lead >= 0xE1 && lead <= 0xEF) return tail(1) && tail(2) ? 3 : 0;
  if (lead == 0xF0) return tail(1, 0x90) && tail(2) && tail(3) ? 4 : 0;
  if (lead >= 0xF1 && lead <= 0xF3) return tail(1) && tail(2) && tail(3) ? 4 : 0;
  if (lead == 0xF4) return tail(1, 0x80, 0x8F) && tail(2) && tail(3) ? 4 : 0;
  return 0;
}

class Reader {
 public:
  explicit Reader(std::string_view bytes) : text_(bytes) {
    if (text_.starts_with(kByteOrderMark)) at_ = kByteOrderMark.size();
  }

  Result<std::vector<CsvRow>> rows() {
    std::vector<CsvRow> rows;
    while (at_ < text_.size()) {
      CsvRow row{line_, {}};
      do {
        auto cell = read_cell(row.cells.size() + 1);
        if (!cell) return Failure(cell.error());
        row.cells.push_back(std::move(*cell));
      } while (take(','));
      if (!end_of_line() && at_ < text_.size()) {
        return fault("text after a closing quote", row.cells.size());
      }
      if (!rows.empty() && row.cells.size() != rows.front().cells.size()) {
        line_ = row.line;
        return fault(format("a row of {} cells where the first has {}", row.cells.size(),
                            rows.front().cells.size()),
                     row.cells.size());
      }
      rows.push_back(std::move(row));
    }
    return rows;
  }

 private:
  Failure fault(std::string what, std::size_t column) const {
    return fail(ErrorCode::invalid_input, std::move(what),
                format("line {}, column {}", line_, column), "Mend the file and send it again.");
  }

  bool take(char c) {
    if (at_ >= text_.size() || text_[at_] != c) return false;
    ++at_;
    return true;
  }

  bool end_of_line() {
    const std::size_t from = at_;
    take('\r');
    if (take('\n')) {
      ++line_;
      return true;
    }
    at_ = from;
    return false;
  }

  bool ends_here() const {
    const char c = text_[at_];
    return c == ',' || c == '\n' || (c == '\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n');
  }

  Result<std::string> read_cell(std::size_t column) {
    std::string cell;
    const bool quoted = take('"');
    for (;;) {
      if (at_ >= text_.size()) {
        if (quoted) return fault("the file ends inside quotes", column);
        break;
      }
      if (!quoted && ends_here()) break;
      if (text_[at_] == '"') {
        if (!quoted) return fault("a quote inside a cell without quotes", column);
        ++at_;
        if (!take('"')) break;
        cell += '"';
        continue;
      }
      const std::size_t length = sequence_at(text_, at_);
      if (length == 0) return fault("bytes that are no UTF-8", column);
      if (text_[at_] == '\n') ++line_;
      cell += text_.substr(at_, length);
      at_ += length;
    }
    if (cell.size() > 1 && cell[0] == '\'' && is_formula(cell)) cell.erase(0, 1);
    return cell;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  std::size_t line_ = 1;
};

}  // namespace

Result<std::vector<CsvRow>> read_csv(std::string_view bytes) {
  if (bytes.size() > kMostCsvBytes) {
    return fail(ErrorCode::too_large, format("a file of {} bytes", bytes.size()), "",
                format("Split it; at most {} are read.", kMostCsvBytes));
  }
  return Reader(bytes).rows();
}

std::string write_csv(const std::vector<std::vector<std::string>>& rows) {
  std::string text;
  for (const auto& row : rows) {
    bool first = true;
    for (const std::string& cell : row) {
      if (!first) text += ',';
      first = false;
      const std::string guarded = is_formula(cell) ? "'" + cell : cell;
      // A row of one empty cell would read as no row at all, a mark at the begin as the file's own.
      const bool quotes = guarded.find_first_of(",\"\r\n") != std::string::npos ||
                          (row.size() == 1 && guarded.empty()) ||
                          guarded.starts_with(kByteOrderMark);
      if (!quotes) {
        text += guarded;
        continue;
      }
      text += '"';
      for (const char c : guarded) {
        if (c == '"') text += '"';
        text += c;
      }
      text += '"';
    }
    text += "\r\n";
  }
  return text;
}

}  // namespace film::formats
