#include "cutting/plan.h"

#include <gtest/gtest.h>

#include "support/blade.h"
#include "support/torture.h"

namespace film::cutting {
namespace {

using test::judge;
using test::plain_profile;
using test::torture_job;

constexpr double kMostStray = 0.05;  // mm, the target of the shop's work

class TortureWithOffset : public testing::TestWithParam<double> {};

// The blade is simulated from the emitted bytes by tests/support/blade.h, apart from the planner.
TEST_P(TortureWithOffset, TheTipStaysOnWhatWasDrawnWhicheverWayTheBladePointedFirst) {
  const MachineProfile profile = plain_profile(GetParam());
  const auto plan = plan_cut(torture_job(), profile, {});
  ASSERT_TRUE(plan) << plan.error().message();
  const auto bytes = emit_hpgl(*plan, profile);
  ASSERT_TRUE(bytes) << bytes.error().message();
  for (const double heading : {0.0, 1.6, 3.1, -1.5}) {
    const auto quality = judge(*bytes, torture_job(), *plan, profile, GetParam(), heading);
    EXPECT_LE(quality.stray, kMostStray) << "heading " << heading;
    EXPECT_LE(quality.uncut, kMostStray) << "heading " << heading;
    EXPECT_LE(quality.open, kMostStray) << "heading " << heading;
  }
}

INSTANTIATE_TEST_SUITE_P(Offsets, TortureWithOffset, testing::Values(0.0, 0.25, 0.5, 0.9, 1.2));

TEST(PlanCut, AlignsTheBladeWhicheverWayItPointedFirst) {
  const double offset = 0.9;
  const MachineProfile profile = plain_profile(offset);
  const auto plan = plan_cut(torture_job(), profile, {});
  ASSERT_TRUE(plan);
  auto plot = formats::read_hpgl(emit_hpgl(*plan, profile).value());
  ASSERT_TRUE(plot);
  plot->strokes.resize(2);  // the way there and the alignment stroke
  const MachineFrame frame(profile, plan->media);
  const Vec2 meant = plan->contours[0].strokes[0].axis[0] - plan->contours[0].drawn[0];
  for (int k = 0; k < 3600; ++k) {
    const double heading = 2 * std::numbers::pi * k / 3600;
    const Vec2 tip = test::Blade(offset, heading, 0.05).replay(*plot, frame).at(0).back();
    EXPECT_LE(distance(frame.to_roll(plot->strokes[1].points.back()) - tip, meant), 0.005) << k;
  }
}

TEST(PlanCut, WithoutCompensationTheSameBladeRoundsCornersAndLeavesHolesUncut) {
  const MachineProfile blind = plain_profile(0);
  const auto plan = plan_cut(torture_job(), blind, {});
  ASSERT_TRUE(plan);
  const auto bytes = emit_hpgl(*plan, blind);
  ASSERT_TRUE(bytes);
  const auto quality = judge(*bytes, torture_job(), *plan, blind, 0.5, 0);
  EXPECT_GT(quality.stray, 0.2);
  EXPECT_GT(quality.uncut, 0.2);
}

TEST(PlanCut, CutsWhatLiesInsideFirst) {
  const CutJob job = torture_job();
  const auto plan = plan_cut(job, plain_profile(0.25), {});
  ASSERT_TRUE(plan);
  std::vector<char> outlined(job.shapes.size(), 0);
  const auto place_of = [&](std::string_view piece, ContourKind kind) {
    for (std::size_t k = 0; k < plan->contours.size(); ++k) {
      const Contour& c = plan->contours[k];
      if (plan->pieces[c.shape] == piece && c.kind == kind) return k;
    }
    return plan->contours.size();
  };
  std::size_t contours = 0;
  for (const Shape& s : job.shapes) contours += 1 + s.outline.holes.size() + s.slits.size();
  EXPECT_EQ(plan->contours.size(), contours);
  for (const Contour& c : plan->contours) {
    EXPECT_EQ(outlined[c.shape], 0)
        << plan->pieces[c.shape] << ": something came after its outline";
    if (c.kind == ContourKind::outline) outlined[c.shape] = 1;
  }
  EXPECT_LT(place_of("island", ContourKind::outline), place_of("frame", ContourKind::hole));
}

TEST(PlanCut, StatesTheLengthsOfWhatIsEmitted) {
  const MachineProfile profile = plain_profile(0.25);
  const auto plan = plan_cut(torture_job(), profile, {});
  ASSERT_TRUE(plan);
  double drawn = 0;
  for (const Contour& c : plan->contours) {
    drawn += c.drawn_length + (c.kind == ContourKind::slit ? 0 : profile.knife.overcut.value);
  }
  EXPECT_NEAR(plan->cut_mm, drawn, 1e-6);
  const auto plot = formats::read_hpgl(emit_hpgl(*plan, profile).value());
  ASSERT_TRUE(plot);
  double travel = 0;
  for (const auto& stroke : plot->strokes) {
    for (std::size_t i = 1; !stroke.down && i < stroke.points.size(); ++i) {
      travel += distance(to_mm(stroke.points[i - 1]), to_mm(stroke.points[i]));
    }
  }
  EXPECT_NEAR(plan->travel_mm, travel, 0.05 * static_cast<double>(plan->contours.size()));
  EXPECT_GT(plan->estimated.value, plan->cut_mm / profile.motion.cut_speed);
}

TEST(PlanCut, SameInputGivesTheSameBytes) {
  const MachineProfile profile = plain_profile(0.5);
  const auto first = plan_cut(torture_job(), profile, {});
  const auto second = plan_cut(torture_job(), profile, {});
  ASSERT_TRUE(first && second);
  EXPECT_EQ(emit_hpgl(*first, profile).value(), emit_hpgl(*second, profile).value());
}

}  // namespace
}  // namespace film::cutting
