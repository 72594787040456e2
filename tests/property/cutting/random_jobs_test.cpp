#include <algorithm>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "base/text.h"
#include "support/blade.h"
#include "support/torture.h"
#include "support/tour_bound.h"

namespace film::cutting {
namespace {

/// A star-shaped outline with as many and as sharp corners as chance will have it.
Ring star(Rng& rng, Vec2 centre, double radius) {
  const std::size_t corners = 6 + rng.below(17);
  Ring ring;
  for (std::size_t k = 0; k < corners; ++k) {
    const double angle =
        2 * std::numbers::pi * static_cast<double>(k) / static_cast<double>(corners);
    ring.push_back(centre + radius * rng.uniform(0.5, 1) * Vec2{std::cos(angle), std::sin(angle)});
  }
  return ring;
}

/// Shapes on a grid; some have holes, some of these hold a piece of their own.
CutJob random_job(Rng& rng) {
  CutJob job;
  const std::size_t shapes = 1 + rng.below(25);
  for (std::size_t k = 0; k < shapes; ++k) {
    const Vec2 centre{50 + 60 * static_cast<double>(k / 3), 35 + 60 * static_cast<double>(k % 3)};
    std::vector<Ring> holes;
    const bool frame = rng.below(3) == 0;
    if (frame) holes.push_back(test::clockwise(test::circle(centre, 10, 40)));
    job.shapes.push_back(test::shape(format("s{}", k), star(rng, centre, 28), std::move(holes)));
    if (frame && rng.below(2) == 0) {
      job.shapes.push_back(test::shape(format("i{}", k), star(rng, centre, 8)));
    }
  }
  return job;
}

TEST(RandomJobs, AreCutWholeInAnAllowedOrderWithTheTipOnTheLine) {
  Rng rng(20310504);
  for (int round = 0; round < 20; ++round) {
    const CutJob job = random_job(rng);
    MachineProfile profile = test::plain_profile(rng.uniform(0, 1.2));
    profile.max_frame_length = Mm{rng.uniform(100, 1000)};
    const auto plan = plan_cut(job, profile, {.seed = rng.next(), .iterations = 500});
    ASSERT_TRUE(plan) << "round " << round << ": " << plan.error().message();

    std::size_t contours = 0;
    for (const Shape& s : job.shapes) contours += 1 + s.outline.holes.size();
    ASSERT_EQ(plan->contours.size(), contours) << "round " << round;
    std::vector<char> cut(job.shapes.size(), 0);
    double furthest = 0;
    for (const Contour& contour : plan->contours) {
      const std::string& name = plan->pieces[contour.shape];
      ASSERT_EQ(cut[contour.shape], 0) << "round " << round << ": " << name;
      if (contour.kind == ContourKind::outline) cut[contour.shape] = 1;
      if (contour.kind == ContourKind::hole) {
        for (std::size_t other = 0; other < job.shapes.size(); ++other) {
          if (job.shapes[other].piece == "i" + name.substr(1)) {
            EXPECT_EQ(cut[other], 1) << "round " << round << ": hole cut before what lies in it";
          }
        }
      }
      const Box box = bounding_box(contour.drawn);
      furthest = std::max(furthest, box.high.x);
      EXPECT_LE(furthest - box.low.x, profile.max_frame_length.value + 0.1) << "round " << round;
    }
    const auto bytes = emit_hpgl(*plan, profile);
    ASSERT_TRUE(bytes) << bytes.error().message();
    const auto quality = test::judge(*bytes, job, *plan, profile, profile.knife.blade_offset.value,
                                     rng.uniform(-3.1, 3.1));
    EXPECT_LE(quality.stray, 0.05) << "round " << round;
    EXPECT_LE(quality.uncut, 0.05) << "round " << round;
    EXPECT_LE(quality.open, 0.05) << "round " << round;
  }
}

TEST(RandomJobs, TravelIsNeverLongerThanNearestNeighbourFromThePlannedStarts) {
  Rng rng(7);
  for (int round = 0; round < 20; ++round) {
    MachineProfile profile = test::plain_profile(0.25);
    profile.max_frame_length = Mm{10'000};
    CutJob job;
    for (std::size_t k = 0; k < 60; ++k) {
      const Vec2 low{20 + 12 * static_cast<double>(k / 10), 10 + 18 * static_cast<double>(k % 10)};
      job.shapes.push_back(
          test::shape(format("p{}", k), test::circle(low + Vec2{5, 5}, rng.uniform(1, 5), 5)));
    }
    rng.shuffle(job.shapes);
    const auto plan = plan_cut(job, profile, {});
    ASSERT_TRUE(plan);
    std::vector<Vec2> points;
    std::vector<std::size_t> order;
    for (const Contour& contour : plan->contours) {
      order.push_back(points.size());
      points.push_back(contour.drawn.front());
    }
    const Vec2 from = plan->alignment.axis.back();
    const double planned = test::path_length(from, points, order);
    EXPECT_LE(planned, test::path_length(from, points, test::nearest_order(from, points)) + 1e-6);
    EXPECT_GE(planned, test::path_bound(from, test::stops_at(points), planned, 100) - 1e-6);
    EXPECT_LE(planned, 1.10 * test::path_bound(from, test::stops_at(points), planned, 100));
  }
}

}  // namespace
}  // namespace film::cutting
