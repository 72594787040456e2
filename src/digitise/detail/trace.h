#pragma once

#include <vector>

#include "digitise/detail/camera.h"
#include "geometry/polygon.h"
#include "geometry/raster.h"

namespace film::digitise::detail {

/// A ring measured in the photo.
struct Traced {
  Ring ring;                         ///< board frame, a point each step
  std::vector<std::size_t> corners;  ///< indices of sharp corners
  double missed = 0;                 ///< share of points where no edge was found
  double width = 0;                  ///< median blur of the edge, mm
};

/// Moves a rough ring onto the edge seen in the photo: each point is measured across the ring,
/// outliers among neighbours are dropped, and sharp corners are put where their sides meet.
/// `height` is that of the edge over the board; `pixel` the size of a pixel there, mm.
Traced trace(const GreyRaster& photo, const Camera& camera, const Ring& rough, double height,
             double pixel);

}  // namespace film::digitise::detail
