#include "demo/vehicle.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

#include <gtest/gtest.h>

#include "surface/clean.h"
#include "surface/flatten.h"
#include "surface/method.h"
#include "surface/reach.h"
#include "surface/strain.h"

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

/// Twice the vector area that a loop bounds: by the right-hand rule, the way the surface faces.
Vec3 facing(const TriMesh& mesh, const std::vector<VertexIndex>& loop) {
  Vec3 sum;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    sum += cross(mesh.points[loop[i]] - mesh.points[loop[0]],
                 mesh.points[loop[(i + 1) % loop.size()]] - mesh.points[loop[0]]);
  }
  return sum;
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
  // Openings are run through the other way round.
  for (std::size_t i = 1; i < loops.size(); ++i) {
    EXPECT_LT(dot(facing(p.surface, loops[0]), facing(p.surface, loops[i])), 0) << "loop " << i;
  }
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

double distance_to_segment(Vec3 p, Vec3 a, Vec3 b) {
  const Vec3 ab = b - a;
  const double t = std::clamp(dot(p - a, ab) / squared_length(ab), 0.0, 1.0);
  return distance(p, a + t * ab);
}

double distance_to_boundary(Vec3 p, const TriMesh& mesh) {
  double least = 1e9;
  for (const auto& loop : boundary_loops(mesh)) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      least = std::min(least, distance_to_segment(p, mesh.points[loop[i]],
                                                  mesh.points[loop[(i + 1) % loop.size()]]));
    }
  }
  return least;
}

TEST(DemoVehicle, BetweenNeighboursLieGapsOfAFewMillimetres) {
  struct Neighbours {
    const char *panel, *stretch, *other;
  };
  for (const auto& [id, stretch, other] :
       {Neighbours{"fender_left", "hood", "hood"},
        {"fender_left", "door", "door_front_left"},
        {"door_front_left", "rear door", "door_rear_left"},
        {"door_rear_left", "quarter", "quarter_left"},
        {"quarter_left", "bumper", "rear_bumper_corner_left"},
        {"roof_rail_left", "roof", "roof"},
        {"tailgate", "bumper", "rear_bumper"},
        {"hood", "windscreen", "cowl"},
        {"front_bumper", "corner left", "front_bumper_corner_left"},
        {"charge_flap_left", "quarter", "quarter_left"}}) {
    SCOPED_TRACE(std::string(id) + " " + stretch);
    const Panel& p = panel(designed(), id);
    const auto edge = std::find_if(p.edges.begin(), p.edges.end(),
                                   [&](const auto& e) { return e.name == stretch; });
    ASSERT_NE(edge, p.edges.end());
    const std::size_t n = edge->path.size(), skip = n / 6;  // corners are rounded
    for (std::size_t i = skip + 1; i + skip + 1 < n; ++i) {
      const double gap =
          distance_to_boundary(p.surface.points[edge->path[i]], panel(designed(), other).surface);
      EXPECT_GE(gap, 2.7);
      EXPECT_LE(gap, 5.3);
    }
  }
}

/// What the surface kernel makes of a panel with its usual film, from a 60 in roll.
struct Judged {
  surface::Flattening flattening;
  surface::Reach reach;
  surface::Method method;
};

Judged judged(const Panel& p) {
  const Context context;
  const auto clean = surface::clean(p.surface, {}, context);
  EXPECT_TRUE(clean) << p.id << ": " << (clean ? "" : clean.error().message());
  if (!clean) return {};
  EXPECT_TRUE(clean->mends.empty()) << p.id << ": " << clean->mends.front();
  surface::FlattenOptions options;
  options.mode = surface::Mode::least_energy;
  if (p.side == Side::centre) options.grain = Vec3{1, 0, 0};
  auto flat = surface::flatten(clean->mesh, options, context);
  EXPECT_TRUE(flat) << p.id << ": " << (flat ? "" : flat.error().message());
  if (!flat) return {};
  const auto strain = surface::report_strain(clean->mesh, flat->flat, options.film);
  const auto reach = surface::reach(flat->flat, options.film, {});
  return {*flat, reach, surface::choose_method(clean->mesh, strain, reach, options.film)};
}

bool mentions(const surface::Method& method, const std::string& word) {
  return std::any_of(method.reasons.begin(), method.reasons.end(), [&](const std::string& reason) {
    return reason.find(word) != std::string::npos;
  });
}

TEST(DemoVehicle, TheHoodIsReachedByALittleStretchAndIsBulkForItsLip) {
  // Common practice, no source: a hood a little over 60 in wide is reached by stretching about
  // half an inch; a hood whose front edge curls into a lip is better laid as a bulk sheet.
  const Judged hood = judged(panel(designed(), "hood"));
  EXPECT_TRUE(hood.reach.fits);
  EXPECT_GT(hood.reach.width.inches(), 60);
  EXPECT_GT(hood.reach.stretch_needed, 1);
  EXPECT_LT(hood.reach.stretch_needed, 1.01);
  EXPECT_EQ(hood.method.choice, surface::Choice::bulk);
  EXPECT_TRUE(mentions(hood.method, "lip"));
}

TEST(DemoVehicle, DoorsAreCutBeforehandAndBumperCornersAreNot) {
  for (const char* id : {"door_front_left", "door_rear_left"}) {
    EXPECT_EQ(judged(panel(designed(), id)).method.choice, surface::Choice::precut) << id;
  }
  for (const char* id : {"front_bumper_corner_left", "rear_bumper_corner_left"}) {
    EXPECT_EQ(judged(panel(designed(), id)).method.choice, surface::Choice::bulk) << id;
  }
}

TEST(DemoVehicle, EveryPanelLiesFlatWithoutFlips) {
  for (const Panel& p : designed().panels) {
    if (p.side == Side::right) continue;  // mirror images
    const Judged j = judged(p);
    EXPECT_EQ(j.flattening.flips, 0u) << p.id;
    EXPECT_EQ(j.flattening.boundary_crossings, 0u) << p.id;
    EXPECT_TRUE(j.reach.fits) << p.id << " is " << j.reach.width.value << " mm wide";
  }
}

TEST(DemoVehicle, TheSameOptionsGiveTheSameVehicle) { EXPECT_EQ(make_vehicle(), designed()); }

}  // namespace
}  // namespace film::demo
