#pragma once

#include <optional>
#include <vector>

#include "cutting/detail/contours.h"

namespace film::cutting::detail {

/// Whether any of the line lies in the box, or the box in what an outline encloses.
bool lies_in(const Box& box, const Line& line);

/// A stroke of the axis in waste film that leaves the blade pointing along +y, whichever way it
/// pointed before: three legs, +y, +x, +y, each long enough to turn the blade (knife.md). Looks
/// near the roll's start first. Nothing when no waste is wide enough.
std::optional<Polyline> alignment_stroke(const std::vector<Line>& lines, const Box& media,
                                         double blade_offset);

}  // namespace film::cutting::detail
