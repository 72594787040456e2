#pragma once

#include <algorithm>
#include <cmath>
#include <mutex>
#include <vector>

#include <time.h>

#include "../tests/support/synthetic_photo.h"
#include "base/text.h"
#include "digitise/board.h"
#include "digitise/digitise.h"
#include "documents/marker_board.h"
#include "figure.h"
#include "host/thread_executor.h"

/// Four ways to hold a camera of 12 megapixels over five templates of about a metre, photographed
/// by tests/support/synthetic_photo.h from the sheets that poppler draws of the printed PDF.
namespace film::bench {

struct PhotoTally {
  int photos = 0, traced = 0, beyond = 0;
  double worst_p95 = 0, worst_point = 0, worst_of_expected = 0;
  double least_expected = 1e9, most_expected = 0;
  double focal_off = 0, k1_off = 0, residual = 0, seconds = 0;
};

/// Time that this thread was given.
inline double processor_seconds() {
  timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

inline void photograph_all(PhotoTally& tally) {
  constexpr int kDpi = 200;
  const auto pages = test::pages_of(*documents::write_marker_board({}), kDpi);
  const auto shapes = test::known_templates();
  const auto cameras = test::known_cameras();
  tally.photos = static_cast<int>(shapes.size() * cameras.size());
  if (pages.size() != 8) return;  // poppler is missing: nothing traced, target missed
  std::mutex mutex;
  host::ThreadExecutor executor(2);
  executor.run(shapes.size() * cameras.size(), [&](std::size_t i) {
    const test::CameraOnTable& camera = cameras[i / shapes.size()];
    test::SceneOnTable scene;
    scene.sheets = test::ring_of_sheets();
    scene.templates = {shapes[i % shapes.size()]};
    scene.print_x = 0.9978;
    scene.print_y = 1.0013;
    if (i % 2 == 1) {
      scene.ground = 0.12;
      scene.colour = 0.7;
    }
    const GreyRaster photo = test::Photographer(scene, camera, pages, kDpi).take();
    digitise::Options options;  // check lines as read from a rule, to 0.2 mm
    options.long_check = Mm{std::round(digitise::kLongCheckLine * scene.print_y * 5) / 5};
    options.short_check = Mm{std::round(digitise::kShortCheckLine * scene.print_x * 5) / 5};
    const double start = processor_seconds();
    const auto result = digitise::digitise(photo, options);
    const double seconds = processor_seconds() - start;
    if (!result || result->outlines.size() != 1) return;
    const digitise::Outline& outline = result->outlines.front();
    const test::Apart apart = test::apart(outline.polygon, scene.templates.front());
    const double expected = outline.accuracy.expected;
    const std::lock_guard lock(mutex);
    ++tally.traced;
    tally.beyond += apart.p95 > expected ? 1 : 0;
    tally.worst_p95 = std::max(tally.worst_p95, apart.p95);
    tally.worst_point = std::max(tally.worst_point, apart.worst);
    tally.worst_of_expected = std::max(tally.worst_of_expected, apart.p95 / expected);
    tally.least_expected = std::min(tally.least_expected, expected);
    tally.most_expected = std::max(tally.most_expected, expected);
    tally.focal_off = std::max(tally.focal_off, std::abs(result->view.focal / camera.focal - 1));
    tally.k1_off = std::max(tally.k1_off, std::abs(result->view.k1 - camera.k1));
    tally.residual = std::max(tally.residual, result->view.residual);
    tally.seconds = std::max(tally.seconds, seconds);
  });
}

inline void photo_rows() {
  PhotoTally tally;
  photograph_all(tally);
  const bool all = tally.traced == tally.photos;
  const char* source = "known outlines, tests/support/synthetic_photo.h";
  say("photos: 4 poses x 5 templates of 1 m at 12 megapixels, lens, shadow and noise: outline "
      "error "
      "at the 95th percentile, worst photo",
      format("{:.2f} mm, {} of {} traced", tally.worst_p95, tally.traced, tally.photos),
      "under 0.5 mm, all traced", source, all && tally.worst_p95 < 0.5);
  say("photos: where that error is beyond the expected error told with the outline",
      format("{} of {}; told {:.2f} to {:.2f} mm, at most {:.0f} % of it used", tally.beyond,
             tally.photos, tally.least_expected, tally.most_expected,
             100 * tally.worst_of_expected),
      "0", source, all && tally.beyond == 0);
  say("photos: worst single point of all outlines", format("{:.2f} mm", tally.worst_point), "",
      source, std::nullopt);
  say("photos: camera found against the one that took the photo: focal length, k1; marker edges",
      format("within {:.1f} %, {:.3f}; {:.2f} px rms", 100 * tally.focal_off, tally.k1_off,
             tally.residual),
      "", source, std::nullopt);
  say("photos: time from grey values to outline, slowest", format("{:.1f} s", tally.seconds),
      "under 10 s", "processor time of one thread", all && tally.seconds < 10);
}

}  // namespace film::bench
