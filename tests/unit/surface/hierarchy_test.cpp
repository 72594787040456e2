#include "surface/detail/hierarchy.h"

#include <cmath>

#include <gtest/gtest.h>

#include "support/surfaces.h"
#include "surface/clean.h"
#include "surface/detail/start.h"
#include "surface/detail/topology.h"

namespace film::surface::detail {
namespace {

TEST(Hierarchy, CoarseLevelsStayCleanDisksAndRefiningNeverFlips) {
  std::vector<TriMesh> levels{test::hood(1500, 1200, 25, 60, 1.2, 50, 40)};
  const auto& points = levels[0].points;
  std::erase_if(levels[0].triangles, [&points](const Triangle& t) {
    const Vec3 middle = (points[t[0]] + points[t[1]] + points[t[2]]) / 3.0;
    return std::abs(middle.x - 500) < 150 && std::abs(middle.y) < 200;
  });
  levels[0] = clean(levels[0], {}, {})->mesh;
  const std::size_t loops = boundary_loops(levels[0]).size();
  ASSERT_GT(loops, 1u);
  std::vector<Coarsening> steps;
  for (int i = 0; i < 6; ++i) {
    steps.push_back(coarsen(levels.back()));
    levels.push_back(steps.back().coarse);
    EXPECT_LT(levels.back().points.size(),
              0.9 * static_cast<double>(levels[levels.size() - 2].points.size()));
    const auto again = clean(levels.back(), {}, {});
    ASSERT_TRUE(again) << again.error().message();
    EXPECT_EQ(again->mesh, levels.back());
    EXPECT_EQ(boundary_loops(levels.back()).size(), loops);
    for (std::size_t r = 0; r < steps.back().removed.size(); ++r) {
      double sum = 0;
      const auto& removed = steps.back().removed[r];
      for (std::uint32_t k = 0; k < removed.parent_count; ++k) {
        sum += steps.back().weights[removed.first_parent + k];
      }
      EXPECT_NEAR(sum, 1, 1e-9);
    }
  }
  // A start on a circle is badly distorted: refining must hold even from there.
  auto flat = *flip_free_start(levels.back(),
                               sides_across(levels.back().triangles, levels.back().points.size()));
  for (std::size_t i = steps.size(); i-- > 0;) {
    flat = refine(levels[i], steps[i], flat);
    EXPECT_EQ(count_flips(levels[i].triangles, flat), 0u) << "level " << i;
  }
}

}  // namespace
}  // namespace film::surface::detail
