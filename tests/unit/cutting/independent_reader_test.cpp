#include <gtest/gtest.h>

#include "support/hp2xx.h"
#include "support/torture.h"

namespace film::cutting {
namespace {

const char* const kFolder = FILM_BINARY_DIR "/hp2xx";

// hp2xx 3.4.4 (Debian) reads the file apart from all our code. Its thinnest pen and its pixels are
// measured on a square; what is beyond half a pen must stay within one plotter unit and a pixel.
class EveryForm : public testing::TestWithParam<formats::HpglCoordinates> {};

TEST_P(EveryForm, IsDrawnByHp2xxAsPlanned) {
  MachineProfile profile = test::plain_profile(0.5);
  profile.coordinates = GetParam();
  const auto plan = plan_cut(test::torture_job(), profile, {});
  ASSERT_TRUE(plan);
  const auto bytes = emit_hpgl(*plan, profile);
  ASSERT_TRUE(bytes);
  const auto check = test::compare_with_hp2xx(*bytes, *plan, profile, kFolder, 508);
  ASSERT_TRUE(check.drawn) << "hp2xx could not be run";
  EXPECT_GT(check.pixels, 10'000u);
  EXPECT_LE(check.stray, 0.025 + check.resolution);
  EXPECT_LE(check.missing, 0);
}

INSTANTIATE_TEST_SUITE_P(Forms, EveryForm,
                         testing::Values(formats::HpglCoordinates::absolute,
                                         formats::HpglCoordinates::relative,
                                         formats::HpglCoordinates::encoded));

TEST(CompareWithHp2xx, TakesALongFileFrameByFrame) {
  MachineProfile profile = test::plain_profile(0.5);
  profile.max_frame_length = Mm{120};
  const auto plan = plan_cut(test::torture_job(), profile, {});
  ASSERT_TRUE(plan);
  ASSERT_GT(plan->frames, 1u);
  const auto check =
      test::compare_with_hp2xx(emit_hpgl(*plan, profile).value(), *plan, profile, kFolder, 508);
  ASSERT_TRUE(check.drawn);
  EXPECT_LE(check.stray, 0.025 + check.resolution);
  EXPECT_LE(check.missing, 0);
}

TEST(CompareWithHp2xx, NoticesAPlanThatWasMovedOrAContourLeftOut) {
  const MachineProfile profile = test::plain_profile(0.5);
  auto plan = plan_cut(test::torture_job(), profile, {});
  ASSERT_TRUE(plan);
  const std::string bytes = emit_hpgl(*plan, profile).value();
  CutPlan moved = *plan;
  for (Contour& contour : moved.contours) {
    for (Vec2& p : contour.strokes[0].axis) p += Vec2{0.15, 0};
  }
  const auto stray = test::compare_with_hp2xx(bytes, moved, profile, kFolder, 508);
  EXPECT_GT(stray.stray, 0.025 + stray.resolution);
  plan->contours.pop_back();
  const auto short_of_one =
      test::compare_with_hp2xx(emit_hpgl(*plan, profile).value(), moved, profile, kFolder, 508);
  EXPECT_GT(short_of_one.missing, 1);
}

}  // namespace
}  // namespace film::cutting
