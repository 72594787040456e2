#include "digitise/detail/sightings.h"

#include <algorithm>
#include <cmath>

#include "digitise/detail/light.h"

namespace film::digitise::detail {

std::vector<Sighting> corner_sightings(const std::vector<SeenMarker>& markers) {
  std::vector<Sighting> sightings;
  for (const SeenMarker& marker : markers) {
    const auto drawn = marker_corners(marker.id);
    for (std::size_t k = 0; k < 4; ++k) {
      for (const Vec2 across : {Vec2{1, 0}, Vec2{0, 1}}) {
        sightings.push_back({sheet_of(marker.id),
                             marker.id,
                             static_cast<int>(k),
                             drawn[k],
                             {},
                             marker.corners[k],
                             across});
      }
    }
  }
  return sightings;
}

EdgeSightings edge_sightings(const GreyRaster& photo, const std::vector<SeenMarker>& markers,
                             const Scene& scene) {
  constexpr double kCell = kMarkerSide / kCells;
  EdgeSightings result;
  std::vector<double> widths;
  for (const SeenMarker& marker : markers) {
    const int sheet = sheet_of(marker.id);
    const auto drawn = marker_corners(marker.id);
    for (std::size_t side = 0; side < 4; ++side) {
      const Vec2 from = drawn[side];
      const Vec2 to = drawn[(side + 1) % 4];
      const Vec2 outward = -left_of(to - from) / length(to - from);
      const double pixels = distance(scene.camera.seen(scene.place(sheet, from)),
                                     scene.camera.seen(scene.place(sheet, to)));
      const double reach = std::clamp(0.42 * pixels / kCells, 1.5, 8.0);
      // As many measurements as stand apart, each over its own stretch of the side.
      const int count = std::clamp(static_cast<int>(pixels / 12), 2, 8);
      const double breadth = std::max(1.0, 0.8 * pixels / (count + 1));
      for (int k = 0; k < count; ++k) {
        const double t = (k + 1.0) / (count + 1.0);
        const Vec2 at = from + t * (to - from);
        const Vec2 middle = scene.camera.seen(scene.place(sheet, at));
        const Vec2 outer = scene.camera.seen(scene.place(sheet, at + 0.2 * kCell * outward));
        const Vec2 next =
            scene.camera.seen(scene.place(sheet, at + 0.2 * kCell * left_of(outward)));
        const Vec2 along = (next - middle) / std::max(distance(next, middle), 1e-9);
        Vec2 across = -left_of(along);
        if (dot(across, outer - middle) < 0) across = -across;
        const auto edge = find_edge(photo, middle, across, reach, breadth);
        if (!edge || edge->after < 1.5 * edge->before) continue;
        result.sightings.push_back({sheet, marker.id, static_cast<int>(side), at, outward,
                                    middle + edge->offset * across, across});
        widths.push_back(edge->width);
      }
    }
  }
  if (!widths.empty()) {
    const auto middle = widths.begin() + static_cast<std::ptrdiff_t>(widths.size() / 2);
    std::nth_element(widths.begin(), middle, widths.end());
    result.width = *middle;
  }
  return result;
}

}  // namespace film::digitise::detail
