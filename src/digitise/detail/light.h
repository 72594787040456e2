#pragma once

#include <optional>

#include "geometry/raster.h"
#include "geometry/vec.h"

namespace film::digitise::detail {

/// The light that fell on the camera, 0 to 1, from grey values that follow the sRGB curve
/// (IEC 61966-2-1). Edges blur evenly to both sides in light, not in grey values.
double light_of(std::uint8_t grey);

/// Light at a place of the photo, px, between the pixels' middles by straight lines; nothing
/// outside.
std::optional<double> light_at(const GreyRaster& photo, Vec2 p);

/// An edge between two even grounds, found on a short line across it.
struct Edge {
  double offset = 0;  ///< of the edge along the line, px
  double before = 0;  ///< light on the side the line comes from
  double after = 0;
  double width = 0;  ///< px over which most of the change happens
};

/// Searches along a line through `middle` in unit direction `across`, `reach` px to each side,
/// averaged over `breadth` px along the edge. The place is that at which a sharp edge would let
/// through as much light, which no even blur moves. Nothing when the line leaves the photo or the
/// edge is not within it.
/// Source: A. J. Tabatabai, O. R. Mitchell, "Edge location to subpixel values in digital imagery",
/// PAMI 6(2), 1984 (moment preserving).
std::optional<Edge> find_edge(const GreyRaster& photo, Vec2 middle, Vec2 across, double reach,
                              double breadth);

}  // namespace film::digitise::detail
