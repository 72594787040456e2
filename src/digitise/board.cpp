#include "digitise/board.h"

#include "base/assert.h"
#include "digitise/detail/markers.h"

namespace film::digitise {

Vec2 marker_centre(int marker) {
  const int place = marker % kMarkersOnSheet;
  const double column = place % kColumns - 0.5 * (kColumns - 1);
  const double row = 0.5 * (kRows - 1) - place / kColumns;
  return {column * kMarkerPitch, row * kMarkerPitch};
}

std::array<Vec2, 4> marker_corners(int marker) {
  const Vec2 c = marker_centre(marker);
  constexpr double h = kMarkerSide / 2;
  return {c + Vec2{-h, -h}, c + Vec2{h, -h}, c + Vec2{h, h}, c + Vec2{-h, h}};
}

MarkerCells marker_cells(int marker) {
  FILM_ASSERT(marker >= 0 && marker < kMostSheets * kMarkersOnSheet);
  return detail::drawn_marker(marker);
}

}  // namespace film::digitise
