#pragma once

#include <string_view>
#include <vector>

#include "geometry/polygon.h"

namespace film::cutting::detail {

/// Text as open lines for a knife: capitals, digits and a few signs, in an alphabet of straight
/// strokes drawn for this program. Baseline from the origin along +x, `height` mm tall. Lower case
/// is written in capitals; what the alphabet lacks becomes a blank.
std::vector<Polyline> strokes_of(std::string_view text, double height);

/// Width of that text, mm.
double width_of(std::string_view text, double height);

}  // namespace film::cutting::detail
