// Lines in the waste: what they keep clear of, what comes last, what zones do to the order.

#include <algorithm>

#include <gtest/gtest.h>

#include "base/text.h"
#include "cutting/detail/stroke_font.h"
#include "cutting/plan.h"
#include "support/torture.h"

namespace film::cutting {
namespace {

double distance_between(const Polyline& line, const Ring& ring) {
  double least = 1e9;
  for (std::size_t i = 1; i < line.size(); ++i) {
    for (int k = 0; k <= 50; ++k) {
      const Vec2 p = line[i - 1] + (k / 50.0) * (line[i] - line[i - 1]);
      for (std::size_t j = 0; j < ring.size(); ++j) {
        const Vec2 a = ring[j];
        const Vec2 ab = ring[(j + 1) % ring.size()] - a;
        const double t = std::clamp(dot(p - a, ab) / squared_length(ab), 0.0, 1.0);
        least = std::min(least, distance(p, a + t * ab));
      }
    }
  }
  return least;
}

MachineProfile with_all_aids() {
  MachineProfile profile = test::plain_profile(0.25);
  profile.aids = {true, Mm{40}, true, true, true};
  return profile;
}

std::vector<std::size_t> named(const CutPlan& plan, const std::string& name) {
  std::vector<std::size_t> found;
  for (std::size_t k = 0; k < plan.contours.size(); ++k) {
    if (plan.pieces[plan.contours[k].shape].starts_with(name)) found.push_back(k);
  }
  return found;
}

TEST(AidsTest, NoAidTouchesAPieceAndTheSheetsEndComesLast) {
  const CutJob job = test::torture_job();
  const auto plan = plan_cut(job, with_all_aids(), {}).value();
  EXPECT_EQ(named(plan, "weed box").size(), 4u);
  EXPECT_GE(named(plan, "weed line").size(), 3u);
  EXPECT_GE(named(plan, "label circle_50").size(), 9u);  // a stroke a letter at least
  EXPECT_EQ(named(plan, "sheet end"), (std::vector<std::size_t>{plan.contours.size() - 1}));
  for (const Contour& contour : plan.contours) {
    if (contour.kind != ContourKind::aid) continue;
    for (const Shape& shape : job.shapes) {
      EXPECT_GE(distance_between(contour.drawn, shape.outline.outer), 1)
          << plan.pieces[contour.shape] << " at " << shape.piece;
      EXPECT_NE(side_of(std::span(shape.outline.outer), contour.drawn.front()), Side::inside);
    }
  }
  EXPECT_TRUE(emit_hpgl(plan, with_all_aids()));
}

TEST(AidsTest, TheWeedBoxIsPartedForShortFrames) {
  MachineProfile profile = with_all_aids();
  profile.max_frame_length = Mm{125};
  const auto plan = plan_cut(test::torture_job(), profile, {});
  ASSERT_TRUE(plan) << plan.error().message();
  EXPECT_GT(named(*plan, "weed box").size(), 4u);
  EXPECT_LE(plan->look_back, 125);
}

TEST(AidsTest, SeamMarksAreCutWithBothFrames) {
  CutJob job;
  for (int k = 0; k < 8; ++k) {
    const Vec2 low{20.0 + 60 * k, 20};
    job.shapes.push_back(
        test::shape(format("p{}", k), test::rounded_rectangle(low, {50, 100}, 5, 4)));
  }
  MachineProfile profile = with_all_aids();
  profile.aids = {.seam_marks = true};
  profile.margins.low = profile.margins.high = Mm{8};
  profile.max_frame_length = Mm{200};
  const auto plan = plan_cut(job, profile, {}).value();
  ASSERT_GE(plan.frames, 2u);
  const auto marks = named(plan, "seam mark");
  EXPECT_EQ(marks.size(), 6 * (plan.frames - 1));  // two strokes a cross and a square, twice
  std::vector<std::size_t> crosses(plan.frames, 0);
  std::vector<std::size_t> squares(plan.frames, 0);
  for (const std::size_t k : marks) {
    const Contour& mark = plan.contours[k];
    ++(mark.drawn.size() == 2 ? crosses : squares)[mark.frame];
  }
  EXPECT_EQ(crosses.front(), 4u);
  EXPECT_EQ(squares.front(), 0u);
  EXPECT_EQ(squares.back(), 2u);
  EXPECT_LE(plan.look_back, profile.max_frame_length.value);
}

TEST(AidsTest, ZonesAreCutOneAfterTheOther) {
  CutJob job;
  for (int k = 0; k < 8; ++k) {
    const Vec2 centre{40.0 + 60 * (k / 2), k % 2 == 0 ? 50.0 : 140.0};
    job.shapes.push_back(test::shape(format("p{}", k), test::circle(centre, 20, 24),
                                     {test::clockwise(test::circle(centre, 5, 12))}));
    job.shapes.back().zone = k % 3 == 0 ? "front" : "rear";
  }
  MachineProfile profile = test::plain_profile(0.25);
  profile.zone_by_zone = true;
  const auto plan = plan_cut(job, profile, {}).value();
  bool rear = false;
  for (const Contour& contour : plan.contours) {
    const bool is_rear = job.shapes[contour.shape].zone == "rear";
    EXPECT_TRUE(is_rear || !rear);
    rear = rear || is_rear;
  }
  EXPECT_TRUE(rear);
}

TEST(AidsTest, EveryLetterStaysInItsBox) {
  for (const char c : std::string("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./+:")) {
    const auto strokes = detail::strokes_of(std::string(1, c), 6);
    ASSERT_FALSE(strokes.empty()) << c;
    for (const Polyline& stroke : strokes) {
      ASSERT_GE(stroke.size(), 2u) << c;
      for (const Vec2 p : stroke) {
        EXPECT_TRUE(p.x >= 0 && p.x <= 3 && p.y >= 0 && p.y <= 6) << c;
      }
    }
  }
  EXPECT_EQ(detail::strokes_of("a", 6), detail::strokes_of("A", 6));
  EXPECT_EQ(detail::strokes_of(" ", 6).size(), 0u);
  EXPECT_DOUBLE_EQ(detail::width_of("AB", 6), 7.5);
}

}  // namespace
}  // namespace film::cutting
