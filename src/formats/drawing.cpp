#include "formats/drawing.h"

namespace film::formats {

Box extent(const Drawing& drawing) {
  if (drawing.page && !drawing.page->empty()) return *drawing.page;
  Box box;
  for (const Layer& layer : drawing.layers) {
    for (const Polygon& region : layer.regions) box.add(bounding_box(region));
    for (const Polyline& line : layer.lines) box.add(bounding_box(line));
    for (const CurvePath& curve : layer.curves) {
      for (const Vec2 p : flattened(curve, kCurveChords)) box.add(p);
    }
    for (const Writing& writing : layer.writings) box.add(writing.at);
  }
  if (box.empty()) box = {{0, 0}, {1, 1}};
  return box;
}

}  // namespace film::formats
