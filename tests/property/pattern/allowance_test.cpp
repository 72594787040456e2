#include "pattern/allowance.h"

#include <cmath>

#include <gtest/gtest.h>
#include <polyclipping/clipper.hpp>

#include "base/rng.h"
#include "pattern/twin.h"
#include "support/random_outlines.h"

namespace film::pattern {
namespace {

ExtendOptions plain() {
  ExtendOptions options;
  options.transition = Mm{0};
  options.chord_tolerance = Mm{0.002};
  options.relief.wanted = false;
  return options;
}

void expect_simple(const Polygon& cut) {
  const auto checked = make_polygon(cut.outer, cut.holes);
  ASSERT_TRUE(checked.has_value()) << checked.error().message();
  EXPECT_EQ(*checked, cut);
}

constexpr double kScale = 1e5;  // whole numbers for polyclipping

ClipperLib::Path whole_numbers(const Ring& ring) {
  ClipperLib::Path path;
  for (const Vec2 p : ring) {
    path.emplace_back(std::llround(p.x * kScale), std::llround(p.y * kScale));
  }
  return path;
}

struct Reference {
  double area = 0;
  std::size_t outlines = 0;
};

// Reference: polyclipping 6.4.2, ClipperOffset with round joins.
Reference offset_by_polyclipping(const Polygon& polygon, double by) {
  ClipperLib::ClipperOffset offset(2, 0.002 * kScale);
  offset.AddPath(whole_numbers(polygon.outer), ClipperLib::jtRound, ClipperLib::etClosedPolygon);
  for (const Ring& hole : polygon.holes) {
    offset.AddPath(whole_numbers(hole), ClipperLib::jtRound, ClipperLib::etClosedPolygon);
  }
  ClipperLib::Paths paths;
  offset.Execute(paths, by * kScale);
  Reference result;
  for (const auto& path : paths) {
    const double area = ClipperLib::Area(path) / kScale / kScale;
    result.area += area;
    if (area > 0.01) ++result.outlines;
  }
  return result;
}

TEST(ExtendRandomRegions, UniformAllowancesHaveTheAreaThatPolyclippingFinds) {
  Rng rng(21);
  for (int round = 0; round < 1500; ++round) {
    const double d = rng.below(2) == 0 ? rng.uniform(0.5, 12) : -rng.uniform(0.2, 5);
    const Piece piece = support::piece_with(support::random_region(rng),
                                            [d](std::size_t, std::size_t) { return d; });
    const Reference reference = offset_by_polyclipping(piece.fold, d);
    const auto extended = extend(piece, plain());
    if (!extended) {
      EXPECT_NE(reference.outlines, 1u) << "round " << round << ": " << extended.error().message();
      continue;
    }
    expect_simple(extended->cut);
    EXPECT_NEAR(area(extended->cut), reference.area, 1e-3 * reference.area) << "round " << round;
  }
}

TEST(ExtendRandomRegions, EveryEdgesOwnAllowanceIsFilmAndNothingElse) {
  Rng rng(22);
  std::size_t judged = 0;
  for (int round = 0; round < 400; ++round) {
    const bool may_hold_back = round % 2 == 1;
    const Piece piece =
        support::piece_with(support::random_region(rng), [&](std::size_t, std::size_t) {
          const std::size_t kind = rng.below(4);
          if (kind == 0) return 0.0;
          if (kind == 1 && may_hold_back) return -rng.uniform(0.2, 3);
          return rng.uniform(0.5, 12);
        });
    const auto extended = extend(piece, plain());
    if (!extended) continue;  // held back into parts
    expect_simple(extended->cut);
    const support::FilmOracle oracle(piece);
    const Box box = bounding_box(extended->cut);
    for (int k = 0; k < 300; ++k) {
      const Vec2 q{rng.uniform(box.low.x - 5, box.high.x + 5),
                   rng.uniform(box.low.y - 5, box.high.y + 5)};
      if (support::distance_to_outline(extended->cut, q) < 0.03 || oracle.near_mixed_corner(q)) {
        continue;
      }
      ++judged;
      EXPECT_EQ(side_of(extended->cut, q) == film::Side::inside, oracle.belongs(q))
          << "round " << round << " at " << q.x << ", " << q.y;
    }
  }
  EXPECT_GT(judged, 50000u);
}

TEST(ExtendRandomRegions, TheFoldStaysInsideTheCutWhereAllAllowancesAreOutward) {
  Rng rng(23);
  for (int round = 0; round < 300; ++round) {
    const Piece piece = support::piece_with(
        support::random_region(rng),
        [&rng](std::size_t, std::size_t) { return rng.below(3) == 0 ? 0.0 : rng.uniform(0, 9); });
    const auto extended = extend(piece, ExtendOptions{});
    ASSERT_TRUE(extended.has_value());
    for (std::size_t r = 0; r <= piece.fold.holes.size(); ++r) {
      for (const Vec2 p : ring_of(piece.fold, r)) {
        EXPECT_TRUE(side_of(extended->cut, p) != film::Side::outside ||
                    support::distance_to_outline(extended->cut, p) < 1e-6);
      }
    }
  }
}

TEST(ExtendRandomRegions, SlitsRunFromTheCutEdgeAndStayOffTheFold) {
  Rng rng(24);
  for (int round = 0; round < 300; ++round) {
    const Piece piece =
        support::piece_with(support::random_region(rng),
                            [&rng](std::size_t, std::size_t) { return rng.uniform(3, 9); });
    const auto extended = extend(piece, ExtendOptions{});
    ASSERT_TRUE(extended.has_value());
    for (const Polyline& slit : extended->slits) {
      EXPECT_LT(support::distance_to_outline(extended->cut, slit.front()), 1e-6);
      EXPECT_GT(support::distance_to_outline(piece.fold, slit.back()), 0.98);
      EXPECT_EQ(side_of(extended->cut, 0.5 * (slit.front() + slit.back())), film::Side::inside);
      EXPECT_EQ(side_of(piece.fold, slit.back()), film::Side::outside);
    }
  }
}

TEST(MirrorRandomPieces, TwiceIsTheSame) {
  Rng rng(25);
  for (int round = 0; round < 300; ++round) {
    const auto extended =
        extend(support::piece_with(support::random_region(rng),
                                   [&rng](std::size_t, std::size_t) { return rng.uniform(0, 9); }));
    ASSERT_TRUE(extended.has_value());
    EXPECT_EQ(mirrored(mirrored(*extended)), *extended);
    EXPECT_TRUE(check_edges(mirrored(*extended)).has_value());
  }
}

}  // namespace
}  // namespace film::pattern
