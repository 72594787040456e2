#include "layout/detail/search/turns.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace film::layout::detail {
namespace {

/// Conflict fields that a problem may need on account of turns.
constexpr double kFields = 12'000;

}  // namespace

Problem with_named_turns(Problem problem) {
  const auto items = static_cast<double>(problem.items.size());
  const double bases = std::clamp(std::floor(std::sqrt(kFields / 2) / items), 1.0, 6.0);
  const Margins& margins = problem.strip.margins;
  const double room = problem.strip.width - margins.low - margins.high;
  for (Item& item : problem.items) {
    if (!item.turns.empty()) continue;
    const Angle narrowest = narrowest_turn(item);
    for (double k = 0; k < 4 * bases; ++k) {
      item.turns.push_back(Angle{std::numbers::pi / 2 * k / bases});
    }
    if (least_width(item) > room) item.turns.push_back(narrowest);
  }
  return problem;
}

}  // namespace film::layout::detail
