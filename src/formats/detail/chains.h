#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "formats/drawn_loops.h"

namespace film::formats::detail {

/// A drawn line before joining, mm.
struct Chain {
  Polyline points;
  bool closed = false;
  std::string layer;
  std::string where;
};

/// Joins open chains at ends within the tolerance, nearest first and within a layer before across
/// layers; drops lines drawn twice and loops without area, and says so.
/// Errors: invalid_input (a point that is not finite), too_large.
Result<DrawnLoops> joined(std::vector<Chain> chains, const DrawingOptions& options);

}  // namespace film::formats::detail
