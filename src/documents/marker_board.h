#pragma once

#include <string>

#include "base/result.h"
#include "shop/letterhead.h"

namespace film::documents {

struct MarkerBoardOptions {
  shop::PaperSize paper = shop::PaperSize::a4;
  int sheets = 8;
};

/// The marker board (digitise/board.h) as PDF, a sheet a page at true size, each with its number,
/// two check lines and how to use it. Same options, same bytes.
/// Errors: invalid_input (sheets not within 1 to digitise::kMostSheets), io.
Result<std::string> write_marker_board(const MarkerBoardOptions& options);

}  // namespace film::documents
