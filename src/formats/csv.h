#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace film::formats {

/// One record of a CSV file, with where it stands for messages.
struct CsvRow {
  std::size_t line = 1;  ///< of the file, from 1, on which it begins
  std::vector<std::string> cells;

  friend bool operator==(const CsvRow&, const CsvRow&) = default;
};

inline constexpr std::size_t kMostCsvBytes = 64'000'000;

/// Reads comma-separated values: CRLF or LF, quoted cells with commas, quotes and line feeds, a
/// byte order mark or none, UTF-8. Every row has as many cells as the first. The mark that
/// write_csv puts before what a spreadsheet would take for a formula is taken off.
/// Errors: invalid_input (a quote inside an open cell, text after a closing quote, an end inside
/// quotes, another number of cells, bytes that are no UTF-8), each naming line and column;
/// too_large. O(n).
/// Source: RFC 4180, section 2.
Result<std::vector<CsvRow>> read_csv(std::string_view bytes);

/// Writes rows with CRLF; what needs quotes gets them. A cell that begins with = + - @ tab or
/// return gets an apostrophe before it, lest a spreadsheet runs it; so does one in which such a
/// sign follows apostrophes, so that read_csv gives back exactly what was written.
/// Sources: RFC 4180; OWASP, "CSV Injection", for the signs.
std::string write_csv(const std::vector<std::vector<std::string>>& rows);

}  // namespace film::formats
