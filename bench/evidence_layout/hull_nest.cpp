// Compiled as C++17: the library's headers are ambiguous under C++20.
#define LIBNEST2D_GEOMETRIES_clipper
#define LIBNEST2D_OPTIMIZER_nlopt
#define LIBNEST2D_THREADING_std
#include "hull_nest.h"

#include <algorithm>
#include <chrono>
#include <limits>

#include <libnest2d/libnest2d.hpp>

namespace film::bench {
namespace {

/// The library counts in whole numbers: the strip's width in them.
constexpr double kWidth = 1e6;
/// Growth of the plate from one attempt to the next.
constexpr double kLonger = 1.02;

}  // namespace

HullNest nest_hulls(const std::vector<FlatRing>& hulls, const std::vector<double>& turns,
                    double width) {
  using libnest2d::Item;
  const double scale = kWidth / width;
  std::vector<Item> items;
  double area = 0;
  for (const FlatRing& hull : hulls) {
    ClipperLib::Path path;
    for (std::size_t i = hull.size(); i >= 2; i -= 2) {  // the library wants it clockwise, closed
      path.emplace_back(static_cast<ClipperLib::cInt>(hull[i - 2] * scale),
                        static_cast<ClipperLib::cInt>(hull[i - 1] * scale));
    }
    path.push_back(path.front());
    items.emplace_back(ClipperLib::Polygon(path));
    area += items.back().area();
  }
  libnest2d::NestConfig<libnest2d::NfpPlacer> config;
  config.placer_config.rotations.assign(turns.begin(), turns.end());
  HullNest out;
  double low = std::numeric_limits<double>::infinity();
  double high = 0;
  // The library fills plates of a given size: the shortest that takes all pieces is looked for.
  for (double length = area / kWidth; !out.all_placed; length *= kLonger) {
    std::vector<Item> laid = items;
    const libnest2d::Box plate(static_cast<ClipperLib::cInt>(length),
                               static_cast<ClipperLib::cInt>(kWidth));
    const auto start = std::chrono::steady_clock::now();
    const std::size_t plates = libnest2d::nest(laid, plate, 0, config);
    const auto taken = std::chrono::steady_clock::now() - start;
    out.seconds = std::chrono::duration<double>(taken).count();
    out.all_placed = plates == 1 && std::all_of(laid.begin(), laid.end(),
                                                [](const Item& item) { return item.binId() == 0; });
    low = std::numeric_limits<double>::infinity();
    high = -low;
    for (const Item& item : laid) {
      const auto box = item.boundingBox();
      low = std::min(low, static_cast<double>(box.minCorner().X));
      high = std::max(high, static_cast<double>(box.maxCorner().X));
    }
  }
  out.length = (high - low) / scale;
  return out;
}

}  // namespace film::bench
