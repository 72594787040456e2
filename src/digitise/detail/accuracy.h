#pragma once

#include <vector>

#include "digitise/detail/adjust.h"

namespace film::digitise::detail {

/// Standard uncertainties across an outline once it is laid on the true one as well as it goes;
/// each is that of its 95th percentile along the outline, mm.
struct Spread {
  double camera = 0;  ///< markers, lens and pose, the print scale being known
  double scale = 0;   ///< print scale
  double height = 0;  ///< for each mm of height
};

/// How the uncertainties of an adjusted scene show along a chain of points of the board.
Spread spread_of(const Adjusted& fit, const std::vector<Vec2>& points, double height);

}  // namespace film::digitise::detail
