#pragma once

#include <cstdint>
#include <optional>

#include "base/units.h"
#include "shop/vehicle.h"

namespace film::demo {

/// How a scanner would have seen the panels instead of how they were designed.
struct Scan {
  Mm noise{0.05};           ///< standard deviation along the normal
  double jitter = 0.2;      ///< vertices moved along the surface, as a part of the edge length
  double irregular = 0.15;  ///< share of inner edges turned to the other diagonal
  std::uint64_t seed = 1;
};

struct VehicleOptions {
  Mm edge{40};    ///< greatest triangle edge on large panels; small panels take less
  Mm chord{0.6};  ///< a triangle edge departs from the true surface by about this at most
  std::optional<Scan> scan;  ///< none: the designed surfaces
};

/// An invented large estate car of our own design, 4.9 m long, as about a hundred panels with
/// finishes and named boundary stretches, and with wheels and a dark inner body as scenery.
///
/// Every panel is one manifold piece, a disk or a disk with holes, its normals outward; its
/// stretches cover every boundary loop exactly. Right-hand panels are exact mirror images of their
/// twins, boundary names included (also with `scan`). Between neighbours lie gaps of 3 to 5 mm.
/// Frame: x forward from the middle of the wheelbase, y to the left, z up from the ground, mm.
///
/// The same options give the same bytes. Cost: a few tenths of a second.
/// How it is made: docs/decisions/0050-demo-vehicle.md.
shop::VehicleModel make_vehicle(const VehicleOptions& options = {});

}  // namespace film::demo
