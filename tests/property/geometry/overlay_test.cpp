#include "geometry/overlay.h"

#include <cmath>

#include <gtest/gtest.h>
#include <polyclipping/clipper.hpp>

#include "base/rng.h"

namespace film {
namespace {

constexpr double kScale = 1 << 20;  // whole numbers for polyclipping

ClipperLib::Path whole_numbers(const Ring& ring) {
  ClipperLib::Path path;
  for (const Vec2 p : ring) {
    path.emplace_back(std::llround(p.x * kScale), std::llround(p.y * kScale));
  }
  return path;
}

Ring scribble(Rng& rng, std::size_t points, double size) {
  Ring ring;
  for (std::size_t i = 0; i < points; ++i) {
    ring.push_back({rng.uniform(0, size), rng.uniform(0, size)});
  }
  return ring;
}

double total_area(const std::vector<Polygon>& polygons) {
  double sum = 0;
  for (const Polygon& polygon : polygons) sum += area(polygon);
  return sum;
}

void expect_valid(const std::vector<Polygon>& polygons) {
  for (const Polygon& polygon : polygons) {
    const auto checked = make_polygon(polygon.outer, polygon.holes);
    ASSERT_TRUE(checked.has_value()) << checked.error().message();
    EXPECT_EQ(*checked, polygon);
  }
}

// Reference: polyclipping 6.4.2, union with the positive filling rule.
TEST(OverlayOfScribbles, HasTheAreaThatPolyclippingFinds) {
  Rng rng(11);
  for (int round = 0; round < 400; ++round) {
    const Ring ring = scribble(rng, 3 + rng.below(30), 100);
    const Ring other = scribble(rng, 3 + rng.below(30), 100);
    Overlay overlay;
    overlay.add(0, ring);
    overlay.add(0, other);
    const auto region = overlay.region([](const auto& w) { return w[0] > 0; });
    ASSERT_TRUE(region.has_value());
    expect_valid(*region);
    ClipperLib::Clipper clipper;
    clipper.AddPath(whole_numbers(ring), ClipperLib::ptSubject, true);
    clipper.AddPath(whole_numbers(other), ClipperLib::ptSubject, true);
    ClipperLib::Paths solution;
    clipper.Execute(ClipperLib::ctUnion, solution, ClipperLib::pftPositive,
                    ClipperLib::pftPositive);
    double expected = 0;
    for (const auto& path : solution) expected += ClipperLib::Area(path) / kScale / kScale;
    EXPECT_NEAR(total_area(*region), expected, 1e-3 + 1e-6 * expected) << "round " << round;
  }
}

// Corners on a coarse lattice: many shared points, shared stretches and three lines through one
// point.
TEST(OverlayOfLatticeScribbles, IsValidAndUniteAndPartAddUp) {
  Rng rng(12);
  for (int round = 0; round < 600; ++round) {
    const auto lattice = [&rng](std::size_t points) {
      Ring ring;
      for (std::size_t i = 0; i < points; ++i) {
        ring.push_back({static_cast<double>(rng.below(7)), static_cast<double>(rng.below(7))});
      }
      return ring;
    };
    Overlay overlay;
    overlay.add(0, lattice(3 + rng.below(9)));
    overlay.add(1, lattice(3 + rng.below(9)));
    const auto either = overlay.region([](const auto& w) { return w[0] != 0 || w[1] != 0; });
    const auto both = overlay.region([](const auto& w) { return w[0] != 0 && w[1] != 0; });
    const auto first = overlay.region([](const auto& w) { return w[0] != 0; });
    const auto second = overlay.region([](const auto& w) { return w[1] != 0; });
    for (const auto* region : {&either, &both, &first, &second}) expect_valid(**region);
    EXPECT_NEAR(total_area(*either) + total_area(*both), total_area(*first) + total_area(*second),
                0.01);
  }
}

}  // namespace
}  // namespace film
