#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

#include "base/context.h"
#include "base/result.h"
#include "exchange/layout_json.h"

namespace film::workbench {

/// How hard to try, without the shop's book.
struct LayOutRequest {
  double seconds = 10;
  std::uint64_t seed = 1;
  std::uint64_t iteration_limit = 0;  ///< 0: until the time is up
  std::size_t threads = 2;
  /// A layout of the same problem to begin from; may be empty.
  exchange::LayoutSheet start;
  /// Hears of every better layout as it is found.
  std::function<void(const exchange::LayoutSheet&)> on_better;
};

struct LaidOut {
  exchange::LayoutSheet sheet;
  std::uint64_t iterations = 0;
  double first_valid_ms = 0;  ///< from the start of the search to the first valid layout
  double seconds = 0;
};

/// Lays the problem out until the time is up, the limit is reached or the user interrupts, and
/// has the result checked by the independent verifier. Time includes the preparation.
/// Errors: those of solve; invalid_input when the start names a piece the problem lacks.
Result<LaidOut> lay_out(const layout::Problem& problem, const LayOutRequest& request,
                        Context::ProgressSink progress = {});

enum class LayoutForm { json, svg };

/// The layout as a file: layout JSON, or a picture of it (a length unit is drawn as a millimetre).
std::string file_of(const exchange::LayoutSheet& sheet, LayoutForm form);

}  // namespace film::workbench
