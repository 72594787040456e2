#include "demo/vehicle.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

#include <gtest/gtest.h>

namespace film::demo {
namespace {

using shop::BoundaryStretch;
using shop::Panel;
using shop::Side;
using shop::VehicleModel;
using Edge = std::pair<VertexIndex, VertexIndex>;

const VehicleModel& designed() {
  static const VehicleModel model = make_vehicle();
  return model;
}

const VehicleModel& scanned() {
  static const VehicleModel model = [] {
    VehicleOptions options;
    options.scan = Scan{};
    return make_vehicle(options);
  }();
  return model;
}

const Panel& panel(const VehicleModel& model, const std::string& id) {
  const auto at = std::find_if(model.panels.begin(), model.panels.end(),
                               [&](const Panel& p) { return p.id == id; });
  if (at == model.panels.end()) throw std::out_of_range(id);
  return *at;
}

/// How often each directed edge occurs; a manifold, oriented surface has each at most once.
std::map<Edge, int> directed_edges(const TriMesh& mesh) {
  std::map<Edge, int> count;
  for (const Triangle& t : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) ++count[{t[k], t[(k + 1) % 3]}];
  }
  return count;
}

std::size_t components(const TriMesh& mesh) {
  std::vector<std::size_t> root(mesh.points.size());
  std::iota(root.begin(), root.end(), 0u);
  const auto find = [&](std::size_t v) {
    while (root[v] != v) v = root[v] = root[root[v]];
    return v;
  };
  for (const Triangle& t : mesh.triangles) {
    root[find(t[0])] = find(t[1]);
    root[find(t[1])] = find(t[2]);
  }
  std::set<std::size_t> roots;
  for (std::size_t v = 0; v < root.size(); ++v) roots.insert(find(v));
  return roots.size();
}

void expect_disk_with_holes(const Panel& p) {
  SCOPED_TRACE(p.id);
  ASSERT_FALSE(p.surface.triangles.empty());
  const auto directed = directed_edges(p.surface);
  std::map<VertexIndex, int> leaving;  // boundary edges that leave each vertex
  std::size_t edges = 0;
  for (const auto& [edge, count] : directed) {
    ASSERT_EQ(count, 1);
    const bool boundary = directed.count({edge.second, edge.first}) == 0;
    if (boundary) ++leaving[edge.first];
    if (boundary || edge.first < edge.second) ++edges;
  }
  for (const auto& [vertex, count] : leaving) ASSERT_EQ(count, 1);
  ASSERT_EQ(components(p.surface), 1u);  // also: no vertex without a triangle
  const auto loops = boundary_loops(p.surface);
  ASSERT_GE(loops.size(), 1u);
  // A sphere with one hole for each boundary loop has Euler number 2 - loops.
  const auto euler = static_cast<long>(p.surface.points.size()) - static_cast<long>(edges) +
                     static_cast<long>(p.surface.triangles.size());
  EXPECT_EQ(euler, 2 - static_cast<long>(loops.size()));
}

void expect_covered_boundary(const Panel& p) {
  SCOPED_TRACE(p.id);
  std::set<Edge> boundary, covered;
  for (const auto& loop : boundary_loops(p.surface)) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      boundary.insert({loop[i], loop[(i + 1) % loop.size()]});
    }
  }
  std::set<std::string> names;
  for (const BoundaryStretch& edge : p.edges) {
    EXPECT_FALSE(edge.name.empty());
    EXPECT_TRUE(names.insert(edge.name).second) << edge.name;
    for (std::size_t i = 0; i + 1 < edge.path.size(); ++i) {
      EXPECT_TRUE(covered.insert({edge.path[i], edge.path[i + 1]}).second) << edge.name;
    }
  }
  EXPECT_EQ(covered, boundary);
}

TEST(DemoVehicle, HasAboutAHundredPanelsWithNamesOfTheirOwn) {
  // Common practice, no source: a large car's body comes to 96 to 105 pieces.
  EXPECT_GE(designed().panels.size(), 96u);
  EXPECT_LE(designed().panels.size(), 105u);
  std::set<std::string> ids, names;
  for (const Panel& p : designed().panels) {
    EXPECT_TRUE(ids.insert(p.id).second) << p.id;
    EXPECT_TRUE(names.insert(p.name).second) << p.name;
  }
}

TEST(DemoVehicle, EveryPanelIsOneManifoldDiskWithHoles) {
  for (const Panel& p : designed().panels) expect_disk_with_holes(p);
  for (const Panel& p : scanned().panels) expect_disk_with_holes(p);
}

TEST(DemoVehicle, ItsStretchesCoverEveryBoundaryLoopOnce) {
  for (const Panel& p : designed().panels) expect_covered_boundary(p);
  for (const Panel& p : scanned().panels) expect_covered_boundary(p);
}

/// Largest distance between vertices of the same number, mm.
double largest_shift(const TriMesh& a, const TriMesh& b) {
  double largest = 0;
  for (std::size_t i = 0; i < a.points.size(); ++i) {
    largest = std::max(largest, distance(a.points[i], b.points[i]));
  }
  return largest;
}

TEST(DemoVehicle, AScanKeepsTheShapeButNotTheTriangles) {
  const Panel &hood = panel(designed(), "hood"), &scan = panel(scanned(), "hood");
  ASSERT_EQ(hood.surface.points.size(), scan.surface.points.size());
  EXPECT_GT(largest_shift(hood.surface, scan.surface), 3);
  EXPECT_LT(largest_shift(hood.surface, scan.surface), 25);
  EXPECT_NEAR(surface_area(scan.surface) / surface_area(hood.surface), 1, 2e-3);
  std::set<Triangle> before(hood.surface.triangles.begin(), hood.surface.triangles.end());
  const auto kept = static_cast<double>(
      std::count_if(scan.surface.triangles.begin(), scan.surface.triangles.end(), [&](Triangle t) {
        for (int k = 0; k < 3; ++k) {
          if (before.count(t) != 0) return true;
          std::rotate(t.begin(), t.begin() + 1, t.end());
        }
        return false;
      }));
  EXPECT_LT(kept / static_cast<double>(before.size()), 0.9);

  VehicleOptions other;
  other.scan = Scan{};
  other.scan->seed = 2;
  EXPECT_NE(make_vehicle(other), scanned());
}

TEST(DemoVehicle, RightPanelsAreExactMirrorImagesOfTheirTwins) {
  std::size_t pairs = 0;
  for (const Panel& right : designed().panels) {
    EXPECT_EQ(right.side == Side::right, !right.twin_of.empty()) << right.id;
    if (right.side != Side::right) continue;
    ++pairs;
    const Panel& left = panel(designed(), right.twin_of);
    EXPECT_EQ(left.side, Side::left);
    EXPECT_EQ(left.finish, right.finish);
    ASSERT_EQ(left.surface.points.size(), right.surface.points.size());
    for (std::size_t i = 0; i < left.surface.points.size(); ++i) {
      const Vec3 a = left.surface.points[i], b = right.surface.points[i];
      ASSERT_EQ(a, (Vec3{b.x, -b.y, b.z})) << right.id;
    }
    std::set<std::string> left_names, right_names;
    for (const auto& edge : left.edges) left_names.insert(edge.name);
    for (const auto& edge : right.edges) right_names.insert(edge.name);
    EXPECT_EQ(left_names, right_names);
  }
  EXPECT_GE(pairs, 35u);
}

TEST(DemoVehicle, IsAsLargeAsALargeEstate) {
  Vec3 low{1e9, 1e9, 1e9}, high{-1e9, -1e9, -1e9};
  for (const Panel& p : designed().panels) {
    if (p.id.find("mirror") != std::string::npos) continue;
    for (const Vec3& q : p.surface.points) {
      low = {std::min(low.x, q.x), std::min(low.y, q.y), std::min(low.z, q.z)};
      high = {std::max(high.x, q.x), std::max(high.y, q.y), std::max(high.z, q.z)};
    }
  }
  EXPECT_NEAR(high.x - low.x, 4900, 60);
  EXPECT_NEAR(high.y - low.y, 1950, 40);
  EXPECT_NEAR(high.z, 1590, 40);
  EXPECT_GT(low.z, 150);
}

TEST(DemoVehicle, TheSameOptionsGiveTheSameVehicle) { EXPECT_EQ(make_vehicle(), designed()); }

}  // namespace
}  // namespace film::demo
