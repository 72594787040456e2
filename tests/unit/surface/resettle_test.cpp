#include "surface/detail/resettle.h"

#include <gtest/gtest.h>

#include "host/thread_executor.h"
#include "support/surfaces.h"
#include "surface/detail/geodesic.h"
#include "surface/detail/newton.h"
#include "surface/detail/start.h"
#include "surface/flatten.h"

namespace film::surface::detail {
namespace {

/// From the rim of a cap of 6 * rings rim points towards its top, so far.
SurfacePath radial_path(const TriMesh& cap, std::size_t rim_point, double share) {
  const std::vector<double> cost(cap.points.size(), 1.0);
  const PathGraph graph(cap, cost);
  const std::vector<PathGraph::Node> top{0};
  SurfacePath path = graph.line(graph.from(top), boundary_loops(cap)[0][rim_point]);
  path.resize(static_cast<std::size_t>(static_cast<double>(path.size()) * share));
  return path;
}

TEST(Geodesic, LinesOnACapFollowItsGreatCircles) {
  const TriMesh cap = test::cap(500, 0.8, 24);
  for (const std::size_t rim_point : {0u, 5u, 12u, 17u, 100u}) {
    // The shortest way from rim to top is a meridian, R alpha long.
    const double length = length_of(cap, radial_path(cap, rim_point, 1));
    EXPECT_LT(length, 1.02 * 500 * 0.8) << rim_point;
    EXPECT_GT(length, 0.99 * 500 * 0.8) << rim_point;
  }
}

TEST(Geodesic, ALineTakesTheCheapWayRound) {
  const TriMesh plate = test::grid_surface(30, 30, [](double u, double v) {
    return Vec3{300 * u, 300 * v, 0};
  });
  std::vector<double> cost(plate.points.size(), 1.0);
  for (std::size_t v = 0; v < cost.size(); ++v) {
    if (std::abs(plate.points[v].x - 40) < 11) cost[v] = 0.05;  // a hidden strip
  }
  const PathGraph graph(plate, cost);
  const auto at = [](std::size_t i, std::size_t j) {
    return static_cast<PathGraph::Node>(j * 31 + i);
  };
  const std::vector<PathGraph::Node> from{at(8, 1)};
  const auto path = graph.line(graph.from(from), at(8, 29));
  ASSERT_GT(path.size(), 2u);
  double least = 300;
  for (const EdgePoint& p : path) {
    least = std::min(least, p.at(std::span<const Vec3>(plate.points)).x);
  }
  EXPECT_LT(least, 55);
}

TEST(CutOpen, ACutKeepsAreaAndOneBoundary) {
  const TriMesh cap = test::cap(500, 0.8, 24);
  for (const std::size_t rim_point : {3u, 12u, 17u, 100u}) {
    const CutSurface cut = cut_open(cap, radial_path(cap, rim_point, 0.7));
    EXPECT_NEAR(surface_area(cut.mesh), surface_area(cap), 1e-6 * surface_area(cap));
    const auto loops = boundary_loops(cut.mesh);
    ASSERT_EQ(loops.size(), 1u);
    EXPECT_EQ(loops[0].size(), boundary_loops(cap)[0].size() + 2 * (cut.left.size() - 1));
    EXPECT_EQ(cut.left.back(), cut.right.back());
    EXPECT_NE(cut.left.front(), cut.right.front());
    EXPECT_EQ(cut.mesh.points.size(), cap.points.size() + cut.added.size());
  }
}

TEST(CutOpen, ASeamLeavesTwoParts) {
  const TriMesh plate = test::grid_surface(12, 9, [](double u, double v) {
    return Vec3{400 * u, 300 * v, 5 * u * v};
  });
  const std::vector<double> cost(plate.points.size(), 1.0);
  const PathGraph graph(plate, cost);
  const std::vector<PathGraph::Node> from{3};  // on the lower side
  const SurfacePath path = graph.line(graph.from(from), 9 * 13 + 8);
  const CutSurface cut = cut_open(plate, path);
  EXPECT_EQ(boundary_loops(cut.mesh).size(), 2u);
  EXPECT_NE(cut.left.back(), cut.right.back());
  EXPECT_NEAR(surface_area(cut.mesh), surface_area(plate), 1e-9 * surface_area(plate));
}

TEST(Resettle, ComesToTheRestOfAColdStart) {
  const FilmProperties film;
  const FilmEnergy energy(film);
  FlattenOptions options;
  options.mode = Mode::least_energy;
  for (const std::size_t rings : {12u, 34u}) {  // on one level, and by coarse levels
    const TriMesh cap = test::cap(600, 0.6, rings);
    const auto whole = flatten(cap, options, {});
    ASSERT_TRUE(whole);
    const CutSurface cut = cut_open(cap, radial_path(cap, 5, 0.6));
    const auto warm = resettle(cut, whole->flat, energy, 1e-7, 40, {});
    ASSERT_TRUE(warm);
    EXPECT_EQ(count_flips(cut.mesh.triangles, warm->flat), 0u);
    const auto shapes = rest_shapes(cut.mesh);
    Minimiser minimiser(cut.mesh.triangles, shapes, cut.mesh.points.size());
    const double before = minimiser.total(carried(cut, std::span<const Vec2>(whole->flat)), energy);
    const auto cold = flatten(cut.mesh, options, {});
    ASSERT_TRUE(cold);
    const double rest = minimiser.total(cold->flat, energy);
    EXPECT_LT(rest, 0.9 * before);
    EXPECT_NEAR(warm->energy, rest, 1e-3 * (before - rest));
    if (rings < 34) continue;
    // Two steps after the leap, as a hand that drags a cut waits for, come most of the way.
    const auto quick = resettle(cut, whole->flat, energy, 1e-7, 2, {});
    ASSERT_TRUE(quick);
    EXPECT_LT(quick->energy - rest, 0.02 * (before - rest));
    host::ThreadExecutor threads(2);
    const Context two({}, {}, &threads);
    const auto shared = resettle(cut, whole->flat, energy, 1e-7, 2, two);
    ASSERT_TRUE(shared);
    EXPECT_EQ(shared->flat, quick->flat);  // whatever the threads
  }
}

}  // namespace
}  // namespace film::surface::detail
