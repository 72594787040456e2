#include "digitise/detail/markers.h"

#include <algorithm>
#include <memory>

#include <apriltag/apriltag.h>
#include <apriltag/tag36h11.h>

#include "base/assert.h"

namespace film::digitise::detail {
namespace {

struct Release {
  void operator()(apriltag_family_t* p) const { tag36h11_destroy(p); }
  void operator()(apriltag_detector_t* p) const { apriltag_detector_destroy(p); }
  void operator()(image_u8_t* p) const { image_u8_destroy(p); }
  void operator()(zarray_t* p) const { apriltag_detections_destroy(p); }
};
template <class T>
using Owned = std::unique_ptr<T, Release>;

constexpr int kLeastSide = 64;  // px; the library's tiles need room
constexpr int kManyPixels = 3'000'000;

}  // namespace

std::vector<SeenMarker> find_markers(const GreyRaster& photo) {
  std::vector<SeenMarker> seen;
  if (photo.width < kLeastSide || photo.height < kLeastSide) return seen;
  // The family outlives the detector: members are released last to first.
  const Owned<apriltag_family_t> family(tag36h11_create());
  const Owned<apriltag_detector_t> detector(apriltag_detector_create());
  apriltag_detector_add_family_bits(detector.get(), family.get(), 1);
  detector->quad_decimate = photo.width > kManyPixels / photo.height ? 2.0F : 1.0F;
  detector->nthreads = 1;
  image_u8_t view{photo.width, photo.height, photo.width,
                  const_cast<std::uint8_t*>(photo.values.data())};  // NOLINT: only read
  const Owned<zarray_t> found(apriltag_detector_detect(detector.get(), &view));
  for (int i = 0; i < zarray_size(found.get()); ++i) {
    apriltag_detection_t* detection = nullptr;
    zarray_get(found.get(), i, &detection);
    if (detection->id >= kMostSheets * kMarkersOnSheet) continue;
    SeenMarker marker{detection->id, {}};
    for (std::size_t k = 0; k < 4; ++k)
      marker.corners[k] = {detection->p[k][0], detection->p[k][1]};
    seen.push_back(marker);
  }
  std::sort(seen.begin(), seen.end(), [](const SeenMarker& a, const SeenMarker& b) {
    return a.id != b.id ? a.id < b.id : a.corners[0].x < b.corners[0].x;
  });
  return seen;
}

MarkerCells drawn_marker(int id) {
  const Owned<apriltag_family_t> family(tag36h11_create());
  const Owned<image_u8_t> drawn(apriltag_to_image(family.get(), id));
  FILM_ASSERT(drawn->width == kCells + 2);  // a white cell all round
  MarkerCells cells{};
  for (int y = 0; y < kCells; ++y) {
    for (int x = 0; x < kCells; ++x) {
      cells[static_cast<std::size_t>(y)][static_cast<std::size_t>(x)] =
          drawn->buf[(y + 1) * drawn->stride + x + 1] == 0;
    }
  }
  return cells;
}

}  // namespace film::digitise::detail
