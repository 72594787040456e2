#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "base/units.h"
#include "geometry/polygon.h"

namespace film::formats {

/// How a drawing is read.
struct DrawingOptions {
  std::optional<double> mm_per_unit;  ///< overrides what the drawing says of its units
  Mm join_tolerance{0.1};             ///< ends of chains this near are joined
  Mm flatness{0.01};                  ///< how far a chord may lie from the curve it stands for
  std::size_t most_points = 4'000'000;
};

/// A closed line of a drawing, mm, y up.
struct DrawnLoop {
  Ring points;
  std::string layer;  ///< DXF layer, SVG id of the nearest named group; may be empty
  std::string where;  ///< "LWPOLYLINE at line 120"
};

/// An end that found no partner.
struct LooseEnd {
  Vec2 at;
  double gap = 0;  ///< distance to the nearest other loose end, mm; infinite if there is none
  std::string layer;
  std::string where;
};

/// What a drawing holds once its curves are flattened and joined.
struct DrawnLoops {
  std::vector<DrawnLoop> loops;
  std::vector<LooseEnd> loose;     ///< two for each open chain
  std::vector<std::string> notes;  ///< what was left out or mended, for people
  double mm_per_unit = 1;          ///< as read or as told
};

}  // namespace film::formats
