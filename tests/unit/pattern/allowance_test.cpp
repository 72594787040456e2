#include "pattern/allowance.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "pattern/edges.h"

namespace film::pattern {
namespace {

constexpr double kPi = std::numbers::pi;

Ring regular(int corners, double radius) {
  Ring ring;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * kPi * i / corners;
    ring.push_back({radius * std::cos(angle), radius * std::sin(angle)});
  }
  return ring;
}

Piece piece_of(Ring outer, double allowance, std::vector<Ring> holes = {}) {
  Piece piece;
  piece.id = "sample";
  piece.fold = *make_polygon(std::move(outer), std::move(holes));
  for (std::size_t r = 0; r <= piece.fold.holes.size(); ++r) {
    EdgeStretch edge;
    edge.name = "ring " + std::to_string(r);
    edge.ring = r;
    edge.allowance = Mm{allowance};
    piece.edges.push_back(edge);
  }
  return piece;
}

/// A rectangle 200 x 100 whose four sides are stretches: bottom, right, top, left.
Piece rectangle(double bottom, double right, double top, double left) {
  Piece piece;
  piece.id = "rectangle";
  piece.fold = *make_polygon({{0, 0}, {200, 0}, {200, 100}, {0, 100}});
  const double allowances[] = {bottom, right, top, left};
  const char* names[] = {"bottom", "right", "top", "left"};
  for (std::size_t i = 0; i < 4; ++i) {
    piece.edges.push_back({names[i], EdgeKind::gap, 0, i, Mm{allowances[i]}, Corner::closed});
  }
  return piece;
}

ExtendOptions exact(Corner within) {
  ExtendOptions options;
  options.within = within;
  options.chord_tolerance = Mm{1e-7};
  options.mitre_limit = 10;
  options.relief.wanted = false;
  return options;
}

bool has_vertex(const Ring& ring, Vec2 at, double tolerance) {
  for (const Vec2 p : ring) {
    if (distance(p, at) <= tolerance) return true;
  }
  return false;
}

TEST(Extend, WithoutAllowanceTheCutIsTheFold) {
  const Piece piece = piece_of(regular(7, 50), 0, {regular(5, 10)});
  EXPECT_EQ(extend(piece)->cut, piece.fold);
}

// Exact answer: width + left + right by height + bottom + top.
TEST(Extend, ARectangleGrowsByEachSidesOwnAllowance) {
  const auto piece = extend(rectangle(6, 3, 0, -2), exact(Corner::closed));
  ASSERT_TRUE(piece.has_value());
  EXPECT_EQ(piece->cut.outer.size(), 4u);
  for (const Vec2 corner : {Vec2{2, -6}, Vec2{203, -6}, Vec2{203, 100}, Vec2{2, 100}}) {
    EXPECT_TRUE(has_vertex(piece->cut.outer, corner, 1e-6));
  }
  EXPECT_NEAR(area(piece->cut), 201.0 * 106.0, 1e-6);
}

// Exact answer: the mitred offset of a regular polygon is the polygon with apothem r + d.
TEST(Extend, ARegularPolygonWithMitresGrowsToTheOneWithALargerApothem) {
  for (const int n : {3, 5, 6, 12, 60}) {
    for (const double d : {6.35, -4.0}) {
      Piece piece = piece_of(regular(n, 100), d);
      piece.edges[0].corner = Corner::closed;
      const auto extended = extend(piece, exact(Corner::closed));
      ASSERT_TRUE(extended.has_value());
      const double radius = 100 + d / std::cos(kPi / n);
      ASSERT_EQ(extended->cut.outer.size(), static_cast<std::size_t>(n));
      for (const Vec2 corner : regular(n, radius)) {
        EXPECT_TRUE(has_vertex(extended->cut.outer, corner, 1e-6)) << n << " corners, d " << d;
      }
    }
  }
}

// Exact answer (Steiner's formula for convex regions): area A + P d + pi d^2, and every node lies
// at the distance d from the polygon.
TEST(Extend, ARegularPolygonWithRoundCornersFollowsSteinersFormula) {
  for (const int n : {3, 4, 6, 9}) {
    const double d = 6.35;
    ExtendOptions options = exact(Corner::round);
    options.chord_tolerance = Mm{1e-6};
    const Piece piece = piece_of(regular(n, 100), d);
    const auto extended = extend(piece, options);
    ASSERT_TRUE(extended.has_value());
    const double steiner = area(piece.fold) + perimeter(piece.fold.outer) * d + kPi * d * d;
    EXPECT_NEAR(area(extended->cut), steiner, 2 * kPi * d * 1e-6 + 1e-5);
    for (const Vec2 p : extended->cut.outer) {
      double nearest = 1e9;
      for (std::size_t i = 0; i < piece.fold.outer.size(); ++i) {
        const Vec2 a = piece.fold.outer[i];
        const Vec2 u = piece.fold.outer[(i + 1) % piece.fold.outer.size()] - a;
        const double t = std::clamp(dot(p - a, u) / squared_length(u), 0.0, 1.0);
        nearest = std::min(nearest, distance(p, a + t * u));
      }
      EXPECT_NEAR(nearest, d, 1e-6);
    }
  }
}

// Exact answer: a circle of radius r, drawn with nodes on it, becomes one of radius r + d; an
// opening shrinks to r - d.
TEST(Extend, ACircleBecomesAConcentricCircle) {
  const int n = 3600;
  Piece disc = piece_of(regular(n, 100), 6, {regular(n, 40)});
  for (EdgeStretch& edge : disc.edges) edge.corner = Corner::closed;
  const auto piece = extend(disc, exact(Corner::closed));
  ASSERT_TRUE(piece.has_value());
  const double apart = std::cos(kPi / n);  // the mitre at a node
  ASSERT_EQ(piece->cut.holes.size(), 1u);
  for (const Vec2 p : piece->cut.outer) EXPECT_NEAR(length(p), 100 + 6 / apart, 1e-6);
  for (const Vec2 p : piece->cut.holes[0]) EXPECT_NEAR(length(p), 40 - 6 / apart, 1e-6);
}

// A polygon drawn round a half circle (an arc between straight sides), 6 mm out: the arc keeps
// its centre.
TEST(Extend, AnArcKeepsItsCentre) {
  Ring ring{{-200, -50}, {0, -50}};
  for (int i = 1; i < 180; ++i) {
    const double angle = -kPi / 2 + kPi * i / 180;
    ring.push_back({50 * std::cos(angle), 50 * std::sin(angle)});
  }
  ring.push_back({0, 50});
  ring.push_back({-200, 50});
  const auto piece = extend(piece_of(ring, 6), exact(Corner::closed));
  ASSERT_TRUE(piece.has_value());
  const double mitre = 50 + 6 / std::cos(kPi / 360);
  for (const Vec2 p : piece->cut.outer) {
    if (p.x > 1) {
      EXPECT_NEAR(length(p), mitre, 2e-3);
    }
  }
}

TEST(Extend, AllowancesRunIntoEachOtherAlongASmoothEdge) {
  Piece piece = rectangle(6, 6, 6, 6);
  piece.fold = *make_polygon({{0, 0}, {100, 0}, {200, 0}, {200, 100}, {0, 100}});
  piece.edges = {{"a", EdgeKind::gap, 0, 0, Mm{6}, Corner::closed},
                 {"b", EdgeKind::gap, 0, 1, Mm{-2}, Corner::closed},
                 {"c", EdgeKind::gap, 0, 2, Mm{0}, Corner::closed}};
  ExtendOptions options = exact(Corner::closed);
  options.transition = Mm{40};
  const auto extended = extend(piece, options);
  ASSERT_TRUE(extended.has_value());
  EXPECT_TRUE(has_vertex(extended->cut.outer, {80, -6}, 1e-6));
  EXPECT_TRUE(has_vertex(extended->cut.outer, {120, 2}, 1e-6));
  EXPECT_EQ(side_of(extended->cut, {100, -1.9}), Side::inside);
  EXPECT_EQ(side_of(extended->cut, {100, -2.1}), Side::outside);
}

TEST(Extend, ALongMitreIsCutOffSquare) {
  Piece piece = piece_of({{0, 0}, {200, -20}, {200, 20}}, 6);
  piece.edges[0].corner = Corner::closed;
  ExtendOptions options = exact(Corner::closed);
  options.mitre_limit = 2;
  const auto extended = extend(piece, options);
  ASSERT_TRUE(extended.has_value());
  EXPECT_NEAR(bounding_box(extended->cut).low.x, -12, 1e-6);
}

TEST(Extend, ANotchLetsTwoTucksLieSideBySide) {
  Piece piece = rectangle(6, 6, 6, 6);
  piece.edges[1].corner = Corner::notch;  // at (200, 0)
  ExtendOptions options = exact(Corner::closed);
  const auto extended = extend(piece, options);
  ASSERT_TRUE(extended.has_value());
  // Folded along y = 0 and x = 200 neither tuck reaches past the bisector through (200, 0).
  for (const Vec2 p : extended->cut.outer) {
    const double below = std::max(0.0, -p.y);
    const double right = std::max(0.0, p.x - 200);
    if (p.x < 150 || p.y > 50) continue;
    if (below > 0 && right == 0) {
      EXPECT_LE(below, 200 - p.x + 1.5);
    }
    if (right > 0 && below == 0) {
      EXPECT_LE(right, p.y + 1.5);
    }
  }
  EXPECT_EQ(side_of(extended->cut, {201, -1}), Side::outside);
  EXPECT_EQ(side_of(extended->cut, {199.9, 0.1}), Side::inside);
}

TEST(Extend, ASmallOpeningClosesRatherThanTurningInsideOut) {
  const auto piece = extend(piece_of(regular(60, 100), 6, {regular(24, 5)}));
  ASSERT_TRUE(piece.has_value());
  EXPECT_TRUE(piece->cut.holes.empty());
}

TEST(Extend, AllowancesAcrossANarrowBayBecomeOne) {
  const Ring ring{{0, 0}, {100, 0}, {100, 50}, {54, 50}, {54, 10}, {46, 10}, {46, 50}, {0, 50}};
  const auto piece = extend(piece_of(ring, 6));
  ASSERT_TRUE(piece.has_value());
  EXPECT_EQ(side_of(piece->cut, {50, 30}), Side::inside);
  EXPECT_TRUE(make_polygon(piece->cut.outer, piece->cut.holes).has_value());
}

TEST(Extend, SaysWhenNothingOrOnlyPartsAreLeft) {
  const auto nothing = extend(piece_of(regular(12, 5), -6));
  ASSERT_FALSE(nothing.has_value());
  EXPECT_EQ(nothing.error().code, ErrorCode::invalid_input);
  const Ring dumbbell{{0, 0},    {40, 0},  {40, 18}, {60, 18}, {60, 0},  {100, 0},
                      {100, 40}, {60, 40}, {60, 22}, {40, 22}, {40, 40}, {0, 40}};
  const auto parts = extend(piece_of(dumbbell, -3));
  ASSERT_FALSE(parts.has_value());
  EXPECT_NE(parts.error().what.find("2 parts"), std::string::npos);
}

// A tuck of width d on a circle of radius r: outward it must shorten from 2 pi (r + d) to
// 2 pi (r - d), so the surplus is 4 pi d; an opening lacks as much.
TEST(Tucks, ACirclesSurplusIsFourPiTimesTheAllowance) {
  const Piece piece = piece_of(regular(720, 100), 6, {regular(720, 60)});
  const auto found = tucks(piece, {});
  ASSERT_EQ(found.size(), 2u);
  EXPECT_NEAR(found[0].surplus, 4 * kPi * 6, 1e-6);
  EXPECT_NEAR(found[0].worst_bunch, 12.0 / 106.0, 1e-3);
  EXPECT_NEAR(found[0].lack, 0, 1e-9);
  EXPECT_NEAR(found[1].lack, 4 * kPi * 6, 1e-6);
  EXPECT_NEAR(found[1].worst_open, 12.0 / 54.0, 1e-3);
  EXPECT_NEAR(found[1].length, 2 * kPi * 60, 0.01);
}

TEST(Tucks, AStraightEdgeNeedsNoSlitAndATightOpeningNeedsMany) {
  const auto straight = tucks(rectangle(6, 6, 6, 6), {});
  for (const Tuck& tuck : straight) EXPECT_EQ(tuck.slits, 0u);
  const Piece opening = piece_of(regular(4, 200), 6, {regular(360, 30)});
  const auto extended = extend(opening);
  ASSERT_TRUE(extended.has_value());
  const auto found = tucks(opening, {});
  // Lack 4 pi 6 = 75.4 mm; the film gives a tenth of the tuck's edge, 2 pi (30 - 6) = 15.1 mm;
  // the other 60.3 mm take 11 slits of 6 mm.
  EXPECT_EQ(found[1].slits, 11u);
  EXPECT_EQ(extended->slits.size(), found[0].slits + found[1].slits);
  for (const Polyline& slit : extended->slits) {
    ASSERT_EQ(slit.size(), 2u);
    EXPECT_NEAR(length(slit[0]), 24, 0.01);  // from the cut edge ...
    EXPECT_NEAR(length(slit[1]), 29, 0.01);  // ... to 1 mm before the fold
  }
}

TEST(Tucks, AnInwardCornerGetsOneSlitOnItsBisector) {
  Piece piece = piece_of({{0, 0}, {100, 0}, {100, 50}, {50, 50}, {50, 100}, {0, 100}}, 6);
  const auto extended = extend(piece);
  ASSERT_TRUE(extended.has_value());
  ASSERT_EQ(extended->slits.size(), 1u);
  const Polyline& slit = extended->slits[0];
  EXPECT_LT(distance(slit[0], {56, 56}), 1e-6);
  EXPECT_LT(distance(slit[1], {51, 51}), 1e-6);  // 1 mm off both edges
}

}  // namespace
}  // namespace film::pattern
