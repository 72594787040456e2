#pragma once

#include <array>
#include <vector>

#include "digitise/board.h"
#include "geometry/raster.h"
#include "geometry/vec.h"

/// The only door to the marker library.
namespace film::digitise::detail {

/// A marker seen in a photo: corners in px in the order of `marker_corners`; the middle of the top
/// left pixel is (0.5, 0.5).
struct SeenMarker {
  int id = 0;
  std::array<Vec2, 4> corners;
};

/// The markers of the board in a photo, by id. A photo too small to hold one gives none.
std::vector<SeenMarker> find_markers(const GreyRaster& photo);

MarkerCells drawn_marker(int id);

}  // namespace film::digitise::detail
