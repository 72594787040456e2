#include <gtest/gtest.h>

#include "support/torture.h"

namespace film::cutting {
namespace {

Shape square(std::string name, Vec2 low, double side) {
  return test::shape(std::move(name),
                     {low, low + Vec2{side, 0}, low + Vec2{side, side}, low + Vec2{0, side}});
}

TEST(PlanCut, RefusesWhatLiesOutsideTheMedia) {
  const MachineProfile profile = test::plain_profile(0.25);
  const auto refused = [&](Vec2 low, double side) {
    const auto plan = plan_cut({{square("a", low, side)}, Mm{0}}, profile, {});
    return !plan && plan.error().where == "a";
  };
  EXPECT_TRUE(refused({0, 20}, 10));    // in the lead margin
  EXPECT_TRUE(refused({20, 2}, 10));    // in the low margin
  EXPECT_TRUE(refused({20, 190}, 10));  // in the high margin
  EXPECT_FALSE(refused({20, 20}, 10));
  EXPECT_FALSE(plan_cut({}, profile, {}));
}

TEST(PlanCut, RefusesAContourLongerThanTheMachineFeedsBackAndForth) {
  MachineProfile profile = test::plain_profile(0.25);
  profile.max_frame_length = Mm{100};
  EXPECT_FALSE(plan_cut({{square("long", {20, 20}, 120)}, Mm{0}}, profile, {}));
}

TEST(PlanCut, NeverFeedsTheFilmBackFurtherThanAFrame) {
  MachineProfile profile = test::plain_profile(0.25);
  profile.max_frame_length = Mm{300};
  CutJob job;
  for (int k = 0; k < 60; ++k) {
    job.shapes.push_back(square("p" + std::to_string(k),
                                {20.0 + 23 * (k % 30), k < 30 ? 20.0 : 120.0},
                                k % 7 == 0 ? 70.0 : 15.0));
  }
  const auto plan = plan_cut(job, profile, {});
  ASSERT_TRUE(plan) << plan.error().message();
  EXPECT_GT(plan->frames, 2u);
  EXPECT_LE(plan->look_back, 300);
  double furthest = 0;
  std::size_t frame = 0;
  for (const Contour& contour : plan->contours) {
    const Box box = bounding_box(contour.drawn);
    furthest = std::max(furthest, box.high.x);
    EXPECT_LE(furthest - box.low.x, 300 + 1e-9);
    EXPECT_GE(contour.frame, frame);
    frame = contour.frame;
  }
}

TEST(EmitHpgl, StaysOnTheMediaInEveryWayTheMachineMayLie) {
  MachineProfile profile = test::plain_profile(1.2);
  profile.calibration = {1.003, 0.998, 0.001};
  for (const Origin origin : {Origin::low_left, Origin::low_right, Origin::high_left,
                              Origin::high_right, Origin::centre}) {
    for (const bool mirrored : {false, true}) {
      profile.origin = origin;
      profile.mirrored = mirrored;
      const auto plan = plan_cut(test::torture_job(), profile, {.seed = 1, .iterations = 200});
      ASSERT_TRUE(plan);
      EXPECT_TRUE(emit_hpgl(*plan, profile));
    }
  }
}

TEST(EmitHpgl, RefusesBytesThatWouldLeaveTheMedia) {
  const MachineProfile profile = test::plain_profile(0.25);
  auto plan = plan_cut(test::torture_job(), profile, {});
  ASSERT_TRUE(plan);
  const std::size_t last = plan->contours.size() - 1;
  plan->contours[last].strokes[0].axis[1] = {50, plan->media.high.y + 0.02};
  const auto bytes = emit_hpgl(*plan, profile);
  ASSERT_FALSE(bytes);
  EXPECT_EQ(bytes.error().where, plan->pieces[plan->contours[last].shape]);
}

TEST(EmitHpgl, PutsTheShopsOwnTextRoundIt) {
  MachineProfile profile = test::plain_profile(0.25);
  profile.prefix = "hello;";
  profile.suffix = "bye;";
  profile.knife.force = 9;
  const auto plan = plan_cut(test::torture_job(), profile, {});
  ASSERT_TRUE(plan);
  const std::string bytes = emit_hpgl(*plan, profile).value();
  EXPECT_EQ(bytes.substr(0, 34), "hello;IN;\nSP1;\nVS40;\nFS9;\nPU15,215");
  EXPECT_EQ(bytes.substr(bytes.size() - 13), "PU;\nSP0;\nbye;");
}

TEST(PlanCut, ATangentialKnifeIsLiftedAtCornersAndFollowsTheLineItself) {
  MachineProfile profile = test::plain_profile(0.5);
  profile.knife.kind = Knife::tangential;
  const auto plan = plan_cut({{square("a", {20, 20}, 50)}, Mm{0}}, profile, {});
  ASSERT_TRUE(plan);
  ASSERT_EQ(plan->contours.size(), 1u);
  EXPECT_EQ(plan->contours[0].strokes.size(), 5u);  // five straights: the start lies on a side
  EXPECT_TRUE(plan->alignment.axis.empty());
  const Ring outline = square("a", {20, 20}, 50).outline.outer;
  for (const Stroke& stroke : plan->contours[0].strokes) {
    for (const Vec2 p : stroke.axis) {
      EXPECT_EQ(side_of(std::span(outline), p), Side::boundary);
    }
  }
}

TEST(MovesOf, JoinsTheWholeWay) {
  const auto plan = plan_cut(test::torture_job(), test::plain_profile(0.5), {});
  ASSERT_TRUE(plan);
  const auto moves = moves_of(*plan);
  double travel = 0;
  Vec2 at = plan->home;
  for (const KnifeMove& move : moves) {
    EXPECT_EQ(move.axis.front(), at);
    at = move.axis.back();
    if (move.phase == Phase::travel) travel += length_of(move.axis);
  }
  EXPECT_NEAR(travel, plan->travel_mm, 1e-6);
}

}  // namespace
}  // namespace film::cutting
