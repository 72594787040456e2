#include "pattern/window.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "pattern/allowance.h"
#include "pattern/edges.h"
#include "support/surfaces.h"
#include "surface/flatten.h"

namespace film::pattern {
namespace {

WindowShrink shrink_on(const TriMesh& mesh) {
  surface::FlattenOptions options;
  const auto flat = surface::flatten(mesh, options, {});
  EXPECT_TRUE(flat);
  return shrink_of(mesh, squared(flat->flat));
}

// Closed form: geodesic parallel coordinates on a sphere have G = cos(s / R); the pane reaches to
// s = R angle on both sides of the middle line. Its whole curvature is the solid angle
// 2 pi (1 - cos angle), less what lies in the outermost half row of triangles.
TEST(WindowShrink, OnASphereItIsOneLessTheCosine) {
  for (const double angle : {0.1, 0.2, 0.3}) {
    const WindowShrink shrink = shrink_on(test::cap(1000, angle, 60));
    const double expected = 1 - std::cos(angle);
    EXPECT_NEAR(shrink.along.greatest, expected, 0.06 * expected) << angle;
    EXPECT_NEAR(shrink.across.greatest, expected, 0.06 * expected) << angle;
    EXPECT_NEAR(shrink.curvature, 2 * std::numbers::pi * expected, 0.05 * shrink.curvature);
  }
}

TEST(WindowShrink, APaneThatBendsOneWayNeedsNone) {
  const WindowShrink shrink = shrink_on(test::cylinder(800, 1.0, 500, 40, 20));
  EXPECT_NEAR(shrink.along.greatest, 0, 1e-6);
  EXPECT_NEAR(shrink.stretched, 0, 1e-6);
  EXPECT_NE(shrink.advice.find("without shrinking"), std::string::npos);
}

TEST(WindowPiece, IsSquaredToItsSmallestBox) {
  const double c = std::cos(0.4), s = std::sin(0.4);
  std::vector<Vec2> turned;
  for (const Vec2 p : {Vec2{0, 0}, Vec2{300, 0}, Vec2{300, 200}, Vec2{0, 200}}) {
    turned.push_back({c * p.x - s * p.y, s * p.x + c * p.y});
  }
  double x = 0, y = 0;
  for (const Vec2 p : squared(turned)) {
    x = std::max(x, p.x);
    y = std::max(y, p.y);
  }
  EXPECT_NEAR(x, 300, 0.05);
  EXPECT_NEAR(y, 200, 0.05);
}

TEST(WindowPiece, IsHeldBackAlongSealsAndGoesOnBelowTheBelt) {
  Piece piece = piece_from_outline("w", {{{0, 0}, {400, 0}, {400, 300}, {0, 300}}, {}});
  for (EdgeStretch& edge : piece.edges) edge.kind = EdgeKind::seal;
  piece.edges[0].name = "belt";
  piece = with_window_allowances(piece, {});
  EXPECT_EQ(piece.grain, Grain::along);
  const auto cut = extend(piece);
  ASSERT_TRUE(cut);
  const Box box = bounding_box(cut->cut);
  // One side goes on by 12 mm, the three others stay 2 mm back.
  const double wide = box.high.x - box.low.x;
  const double high = box.high.y - box.low.y;
  EXPECT_TRUE((std::fabs(wide - 396) < 0.1 && std::fabs(high - 310) < 0.1) ||
              (std::fabs(wide - 410) < 0.1 && std::fabs(high - 296) < 0.1))
      << wide << " x " << high;
}

}  // namespace
}  // namespace film::pattern
