#pragma once

#include <cstdint>
#include <string>

#include "base/context.h"
#include "base/result.h"
#include "exchange/layout_json.h"
#include "layout/stock.h"

namespace film::workbench {

struct AllotRequest {
  double seconds = 10;
  std::uint64_t seed = 1;
  std::uint64_t iteration_limit = 0;  ///< 0: until the time is up
  std::size_t threads = 2;
};

/// Chooses rolls and offcuts for the pieces and lays them, until the time is up, the limit is
/// reached or the user interrupts; every layout is checked by the independent verifier.
/// Errors: those of layout::allot.
Result<layout::Allotment> allot_film(const exchange::StockJob& job, const AllotRequest& request,
                                     Context::ProgressSink progress = {});

/// A picture (SVG, true size) of what is cut from each roll and offcut, one above the other.
std::string picture_of(const exchange::StockJob& job, const layout::Allotment& allotment);

/// What is cut from what and what is left, in words: a line for each.
std::string words_of(const exchange::StockJob& job, const layout::Allotment& allotment);

}  // namespace film::workbench
