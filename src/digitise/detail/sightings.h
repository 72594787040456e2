#pragma once

#include <vector>

#include "digitise/detail/adjust.h"

namespace film::digitise::detail {

/// The markers' corners as the library gave them: enough for a first fit.
std::vector<Sighting> corner_sightings(const std::vector<SeenMarker>& markers);

struct EdgeSightings {
  std::vector<Sighting> sightings;
  double width = 0;  ///< px, median blur of the edges
};

/// Points on the four sides of every marker, measured in the photo where the scene expects them.
EdgeSightings edge_sightings(const GreyRaster& photo, const std::vector<SeenMarker>& markers,
                             const Scene& scene);

}  // namespace film::digitise::detail
