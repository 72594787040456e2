#include "surface/bulk.h"

#include <gtest/gtest.h>

#include "geometry/box.h"
#include "support/surfaces.h"
#include "surface/flatten.h"

namespace film::surface {
namespace {

struct Laid {
  TriMesh mesh;
  FilmProperties film;
  std::vector<Vec2> flat;
  Reach reach;
  BulkPlan plan;
};

Laid planned(TriMesh mesh, BulkOptions options = {}, Mode mode = Mode::least_energy) {
  Laid laid{std::move(mesh), {}, {}, {}, {}};
  FlattenOptions flatten_options;
  flatten_options.mode = mode;
  flatten_options.grain = Vec3{1, 0, 0};
  auto flat = flatten(laid.mesh, flatten_options, {});
  EXPECT_TRUE(flat);
  laid.flat = std::move(flat->flat);
  laid.reach = reach(laid.flat, laid.film, {});
  laid.plan = plan_bulk(laid.mesh, laid.flat, triangle_strains(laid.mesh, laid.flat), laid.reach,
                        laid.film, options);
  return laid;
}

TEST(Bulk, TheSheetIsThePieceAndRoomForTheHands) {
  BulkOptions options;
  options.hold = Mm{40};
  const Laid laid = planned(test::cylinder(600, 1.0, 800, 20, 20), options);
  EXPECT_NEAR(laid.plan.length.value, laid.reach.length.value + 80, 1e-9);
  EXPECT_NEAR(laid.plan.width.value, 800 + 80, 0.1);
  for (const Vec2 p : laid.flat) {
    for (std::size_t k = 0; k < 4; ++k) {
      const Vec2 side = laid.plan.sheet[(k + 1) % 4] - laid.plan.sheet[k];
      EXPECT_GE(cross(side, p - laid.plan.sheet[k]) / length(side), 40 - 1e-6);
    }
  }
}

TEST(Bulk, ASheetThatNeedsNoStretchIsNotPulled) {
  const Laid laid = planned(test::cylinder(600, 1.0, 800, 20, 20));
  EXPECT_TRUE(laid.plan.pulls.empty());
  EXPECT_LT(laid.plan.draws_back_along.value, 0.01);
}

TEST(Bulk, PullsOnACapComeToTheGrowthOfItsMeridians) {
  // With the azimuthal equidistant film shrunk by sin a / a (no compression) every meridian grows
  // by alpha / sin alpha: R (alpha - sin alpha) from top to rim.
  const double alpha = 0.5;
  const Laid laid = planned(test::cap(400, alpha, 24), {}, Mode::no_compression);
  ASSERT_GE(laid.plan.pulls.size(), 5u);
  const Vec2 anchor = laid.plan.anchors.front().on_film;
  EXPECT_LT(length(laid.plan.anchors.front().on_panel - Vec3{0, 0, 400}), 140);
  for (const Pull& pull : laid.plan.pulls) {
    const double share = distance(anchor, pull.to) / (400 * std::sin(alpha));
    EXPECT_NEAR(pull.amount.value, 400 * (alpha - std::sin(alpha)) * share, 0.6);
    EXPECT_NEAR(pull.draws_back.value, laid.film.pull_back * pull.amount.value, 1e-9);
  }
}

TEST(Bulk, ThePullThatReachesTheRollComesFirst) {
  const Laid laid = planned(test::hood(1560, 1250, 8, 0, 0, 40, 40));
  ASSERT_GT(laid.reach.stretch_needed, 1);
  EXPECT_EQ(laid.plan.anchors.size(), 2u);
  ASSERT_FALSE(laid.plan.pulls.empty());
  EXPECT_NEAR(laid.plan.pulls.front().amount.value, laid.reach.width.value - 1524, 1e-6);
  EXPECT_EQ(laid.plan.width, Mm::from_inches(60));
}

TEST(Bulk, OppositePullsFollowEachOther) {
  const Laid laid = planned(test::cap(400, 0.5, 24));
  const auto& pulls = laid.plan.pulls;
  ASSERT_GE(pulls.size(), 2u);
  const Vec2 first = pulls[0].to - pulls[0].from;
  const Vec2 second = pulls[1].to - pulls[1].from;
  EXPECT_LT(dot(first, second), 0);
  EXPECT_GE(pulls[0].amount, pulls[1].amount);
}

TEST(Bulk, SlackIsCutIntoAnArchAndThroughAnOpening) {
  const TriMesh fender = test::grid_surface(40, 20, [](double u, double v) {
    // A wheel arch takes a bay out of the lower side.
    const double arch = 250 * std::exp(-40 * (u - 0.5) * (u - 0.5));
    const double low = arch;
    return Vec3{1000 * u, low + (600 - low) * v, 10 * v * v};
  });
  const Laid arched = planned(fender);
  std::size_t bays = 0;
  for (const SlackCut& cut : arched.plan.slack_cuts) {
    bays += cut.why == SlackCut::Why::bay ? 1 : 0;
  }
  EXPECT_EQ(bays, 1u);
  TriMesh door = test::grid_surface(30, 20, [](double u, double v) {
    return Vec3{900 * u, 600 * v, 0};
  });
  std::erase_if(door.triangles, [&](const Triangle& t) {
    const Vec3 middle = (door.points[t[0]] + door.points[t[1]] + door.points[t[2]]) / 3.0;
    return std::abs(middle.x - 450) < 90 && std::abs(middle.y - 300) < 45;
  });
  std::vector<VertexIndex> number(door.points.size(), 0);
  TriMesh used;
  std::vector<char> seen(door.points.size(), 0);
  for (Triangle t : door.triangles) {
    for (VertexIndex& v : t) {
      if (!seen[v]) {
        seen[v] = 1;
        number[v] = static_cast<VertexIndex>(used.points.size());
        used.points.push_back(door.points[v]);
      }
      v = number[v];
    }
    used.triangles.push_back(t);
  }
  const Laid opened = planned(used);
  ASSERT_EQ(opened.plan.slack_cuts.size(), 1u);
  EXPECT_EQ(opened.plan.slack_cuts[0].why, SlackCut::Why::opening);
}

}  // namespace
}  // namespace film::surface
