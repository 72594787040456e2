#include "pattern/twin.h"

#include <cmath>

#include <gtest/gtest.h>
#include <polyclipping/clipper.hpp>

#include "base/rng.h"
#include "support/random_outlines.h"

namespace film::pattern {
namespace {

constexpr double kScale = 1e5;  // whole numbers for polyclipping

void add(ClipperLib::Clipper& clipper, const Ring& ring, ClipperLib::PolyType type) {
  ClipperLib::Path path;
  for (const Vec2 p : ring) {
    path.emplace_back(std::llround(p.x * kScale), std::llround(p.y * kScale));
  }
  clipper.AddPath(path, type, true);
}

/// Area of the mirrored fold with the outline taken out or added, by polyclipping 6.4.2.
double area_by_polyclipping(const Polygon& fold, const Asymmetry& asymmetry) {
  ClipperLib::Clipper clipper;
  add(clipper, fold.outer, ClipperLib::ptSubject);
  for (const Ring& hole : fold.holes) add(clipper, hole, ClipperLib::ptSubject);
  add(clipper, asymmetry.outline, ClipperLib::ptClip);
  ClipperLib::Paths paths;
  const bool removes = asymmetry.effect == Asymmetry::Effect::removes;
  clipper.Execute(removes ? ClipperLib::ctDifference : ClipperLib::ctUnion, paths,
                  ClipperLib::pftNonZero, ClipperLib::pftNonZero);
  double sum = 0;
  for (const auto& path : paths) sum += ClipperLib::Area(path) / kScale / kScale;
  return sum;
}

TEST(FollowRandomPieces, AnAsymmetryChangesTheFoldAsPolyclippingSaysAndSurvivesEdits) {
  Rng rng(404);
  std::size_t followed_times = 0;
  for (int round = 0; round < 300; ++round) {
    const auto none = [](std::size_t, std::size_t) { return 0.0; };
    std::vector<Piece> pieces{support::piece_with(support::random_region(rng), none)};
    pieces[0].id = "left";
    pieces[0].cut = pieces[0].fold;
    pieces.push_back(twin(pieces[0], {"right", "", ""}));
    const Vec2 centre{rng.uniform(20, 180), -rng.uniform(20, 180)};
    Asymmetry asymmetry;
    asymmetry.name = "aerial";
    asymmetry.effect = rng.below(2) == 0 ? Asymmetry::Effect::removes : Asymmetry::Effect::adds;
    asymmetry.outline = support::star(rng, centre, rng.uniform(5, 40), 3 + rng.below(12), 0.4);
    pieces[1].asymmetries = {asymmetry};
    if (!follow(pieces)) continue;  // it parts the piece, or lies apart from it
    ++followed_times;
    const double expected = area_by_polyclipping(mirrored(pieces[0]).fold, asymmetry);
    EXPECT_NEAR(area(pieces[1].fold), expected, 1e-2) << round;
    EXPECT_TRUE(check_edges(pieces[1]).has_value()) << round;
    EXPECT_EQ(pieces[1].cut, pieces[1].fold) << round;  // every allowance is 0

    // An edit of the original: another fold; the area is laid over it again.
    pieces[0] = support::piece_with(support::random_region(rng), none);
    pieces[0].id = "left";
    pieces[0].cut = pieces[0].fold;
    if (!follow(pieces)) continue;
    EXPECT_NEAR(area(pieces[1].fold), area_by_polyclipping(mirrored(pieces[0]).fold, asymmetry),
                1e-2);
    EXPECT_EQ(pieces[1].asymmetries, (std::vector<Asymmetry>{asymmetry}));
  }
  EXPECT_GT(followed_times, 100U);
}

}  // namespace
}  // namespace film::pattern
