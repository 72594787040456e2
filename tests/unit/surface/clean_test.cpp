#include "surface/clean.h"

#include <limits>

#include <gtest/gtest.h>

#include "support/surfaces.h"

namespace film::surface {
namespace {

using test::cap;
using test::cylinder;
using test::grid_surface;

TriMesh sheet(std::size_t n = 4, double size = 100) {
  return grid_surface(n, n, [size](double u, double v) { return Vec3{size * u, size * v, 0}; });
}

std::string refusal(const TriMesh& mesh) {
  const auto result = clean(mesh, {}, {});
  return result ? "accepted" : result.error().message();
}

bool says(const std::string& text, const char* word) { return text.find(word) != text.npos; }

TEST(Clean, LeavesAGoodSurfaceAsItIs) {
  const TriMesh mesh = cap(500, 0.5, 8);
  const auto result = clean(mesh, {}, {});
  ASSERT_TRUE(result) << result.error().message();
  EXPECT_EQ(result->mesh, mesh);
  EXPECT_TRUE(result->mends.empty());
}

TEST(Clean, WeldsASoupOfTriangles) {
  const TriMesh mesh = sheet();
  TriMesh soup;
  for (const Triangle& t : mesh.triangles) {
    const auto base = static_cast<VertexIndex>(soup.points.size());
    for (const VertexIndex v : t) soup.points.push_back(mesh.points[v] + Vec3{1e-5, 0, 0});
    soup.triangles.push_back({base, base + 1, base + 2});
  }
  const auto result = clean(soup, {}, {});
  ASSERT_TRUE(result) << result.error().message();
  EXPECT_EQ(result->mesh.points.size(), mesh.points.size());
  EXPECT_EQ(result->mends.size(), 1u);
  for (const VertexIndex v : result->vertex_of_source) EXPECT_LT(v, mesh.points.size() + 100);
}

TEST(Clean, KeepsTheLipsOfACutApart) {
  TriMesh mesh = sheet(4);
  // Cut from the middle of the left edge to the centre: vertices 10, 11 get a second copy.
  const auto copy = static_cast<VertexIndex>(mesh.points.size());
  mesh.points.push_back(mesh.points[10]);
  mesh.points.push_back(mesh.points[11]);
  for (Triangle& t : mesh.triangles) {
    double y = 0;
    for (const VertexIndex v : t) y += mesh.points[v].y / 3;
    if (y < 50) continue;
    for (VertexIndex& v : t) {
      if (v == 10 || v == 11) v = copy + v - 10;
    }
  }
  const auto result = clean(mesh, {}, {});
  ASSERT_TRUE(result) << result.error().message();
  EXPECT_EQ(result->mesh.points.size(), 27u);
}

TEST(Clean, TurnsTrianglesTheWayOfMost) {
  TriMesh mesh = sheet();
  const TriMesh good = mesh;
  for (const std::size_t t : {3u, 4u, 17u}) std::swap(mesh.triangles[t][1], mesh.triangles[t][2]);
  const auto result = clean(mesh, {}, {});
  ASSERT_TRUE(result);
  for (std::size_t t = 0; t < good.triangles.size(); ++t) {
    EXPECT_GT(area_vector(result->mesh, result->mesh.triangles[t]).z, 0);
  }
  ASSERT_EQ(result->mends.size(), 1u);
  EXPECT_TRUE(says(result->mends[0], "3 triangles"));
}

TEST(Clean, DropsDuplicatesDegeneratesAndUnusedVertices) {
  TriMesh mesh = sheet();
  const std::size_t count = mesh.triangles.size();
  mesh.triangles.push_back(mesh.triangles[5]);
  mesh.triangles.push_back({7, 7, 8});
  mesh.points.push_back({1e9, 0, std::numeric_limits<double>::quiet_NaN()});
  const auto result = clean(mesh, {}, {});
  ASSERT_TRUE(result) << result.error().message();
  EXPECT_EQ(result->mesh.triangles.size(), count);
  EXPECT_EQ(result->mends.size(), 3u);
  EXPECT_EQ(result->vertex_of_source.back(), CleanMesh::kDropped);
}

TEST(Clean, MendsTrianglesWithoutAreaWithoutOpeningACrack) {
  // The middle vertex of the long side lies exactly on it, and belongs to a flat triangle.
  const TriMesh mesh{{{0, 0, 0}, {100, 0, 0}, {50, 80, 0}, {50, 0, 0}, {50, -80, 0}},
                     {{0, 3, 2}, {3, 1, 2}, {0, 1, 3}, {0, 4, 1}}};
  const auto result = clean(mesh, {}, {});
  ASSERT_TRUE(result) << result.error().message();
  EXPECT_NEAR(surface_area(result->mesh), 8000, 1e-9);
  EXPECT_EQ(result->mesh.triangles.size(), 4u);
  EXPECT_EQ(boundary_loops(result->mesh).size(), 1u);
}

double least_height(const TriMesh& mesh) {
  double least = std::numeric_limits<double>::infinity();
  for (const Triangle& t : mesh.triangles) {
    double base = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      base = std::max(base, distance(mesh.points[t[k]], mesh.points[t[(k + 1) % 3]]));
    }
    least = std::min(least, length(area_vector(mesh, t)) / base);
  }
  return least;
}

TEST(Clean, MendsAChainOfTrianglesWithoutAreaWhicheverWayTheyAreTurned) {
  // A seam of thirty-nine points between two ends, closed by a fan from one end: each triangle of
  // the fan faces the next one.
  for (const bool turned : {false, true}) {
    TriMesh mesh{{{0, 0, 0}, {240, 0, 0}, {120, 200, 0}, {120, -200, 0}}, {}};
    VertexIndex before = 0;
    for (VertexIndex k = 1; k <= 40; ++k) {
      const VertexIndex next = k < 40 ? 3 + k : 1;
      if (k < 40) mesh.points.push_back({6.0 * k, 0, 0});
      mesh.triangles.push_back({before, next, 2});
      if (k > 1) {
        mesh.triangles.push_back(turned && k % 3 == 0 ? Triangle{0, before, next}
                                                      : Triangle{0, next, before});
      }
      before = next;
    }
    mesh.triangles.push_back({1, 0, 3});
    const auto result = clean(mesh, {}, {});
    ASSERT_TRUE(result) << result.error().message();
    EXPECT_GT(least_height(result->mesh), 1);
    EXPECT_NEAR(surface_area(result->mesh), 48000, 1e-6);
    EXPECT_EQ(boundary_loops(result->mesh).size(), 1u);
    EXPECT_EQ(result->mesh.points.size(), mesh.points.size());
  }
}

TEST(Clean, JoinsTheEndsOfEdgesWithoutLength) {
  TriMesh mesh = sheet(6, 300);
  for (const VertexIndex v : {8u, 16u, 30u}) mesh.points[v] = mesh.points[v + 1];
  const auto result = clean(mesh, {}, {});
  ASSERT_TRUE(result) << result.error().message();
  EXPECT_EQ(result->mesh.points.size(), mesh.points.size() - 3);
  EXPECT_GT(least_height(result->mesh), 1);
  EXPECT_NEAR(surface_area(result->mesh), 90000, 1e-6);
  EXPECT_EQ(boundary_loops(result->mesh).size(), 1u);
  EXPECT_EQ(result->vertex_of_source[9], result->vertex_of_source[8]);
}

TEST(Clean, ClosesPinHolesWhenAsked) {
  TriMesh mesh = sheet(10, 200);
  mesh.triangles.erase(mesh.triangles.begin() + 110);
  CleanOptions options;
  EXPECT_EQ(boundary_loops(clean(mesh, options, {})->mesh).size(), 2u);
  options.pin_hole_perimeter = Mm{100};
  const auto result = clean(mesh, options, {});
  ASSERT_TRUE(result);
  EXPECT_EQ(boundary_loops(result->mesh).size(), 1u);
  EXPECT_NEAR(surface_area(result->mesh), 40000, 1e-6);
}

TEST(Clean, DropsSpecksButRefusesSeveralParts) {
  TriMesh mesh = sheet();
  const auto base = static_cast<VertexIndex>(mesh.points.size());
  for (const Vec3 p : {Vec3{500, 0, 0}, Vec3{501, 0, 0}, Vec3{500, 1, 0}}) mesh.points.push_back(p);
  mesh.triangles.push_back({base, base + 1, base + 2});
  const auto result = clean(mesh, {}, {});
  ASSERT_TRUE(result);
  EXPECT_EQ(result->mesh.triangles.size(), 32u);

  mesh.points[base + 1] = {600, 0, 0};
  mesh.points[base + 2] = {500, 100, 0};
  EXPECT_TRUE(says(refusal(mesh), "2 parts"));
}

TEST(Clean, RefusesWhatCannotBeLaidFlatAndSaysWhatToCut) {
  EXPECT_TRUE(says(refusal({}), "no triangles"));

  const TriMesh tetrahedron{{{0, 0, 0}, {100, 0, 0}, {0, 100, 0}, {0, 0, 100}},
                            {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}}};
  EXPECT_TRUE(says(refusal(tetrahedron), "closed"));
  EXPECT_TRUE(says(refusal(tetrahedron), "Cut"));

  TriMesh branch = sheet();
  branch.points.push_back({50, 50, 80});
  branch.triangles.push_back({12, 13, static_cast<VertexIndex>(branch.points.size() - 1)});
  EXPECT_TRUE(says(refusal(branch), "more than two triangles"));

  TriMesh wild = sheet();
  wild.triangles[0][0] = 4000;
  EXPECT_TRUE(says(refusal(wild), "vertex 4001"));

  TriMesh nan = sheet();
  nan.points[3].y = std::numeric_limits<double>::quiet_NaN();
  EXPECT_TRUE(says(refusal(nan), "vertex 4"));
}

TEST(Clean, RefusesAMoebiusBand) {
  TriMesh band;
  constexpr VertexIndex kSteps = 12;
  for (VertexIndex i = 0; i < kSteps; ++i) {
    const double a = 2 * std::numbers::pi * i / kSteps;
    for (const double side : {-1.0, 1.0}) {
      const double r = 100 + 20 * side * std::cos(a / 2);
      band.points.push_back({r * std::cos(a), r * std::sin(a), 20 * side * std::sin(a / 2)});
    }
  }
  for (VertexIndex i = 0; i < kSteps; ++i) {
    const bool last = i + 1 == kSteps;
    const VertexIndex c = last ? 1 : 2 * i + 2;
    const VertexIndex d = last ? 0 : 2 * i + 3;
    band.triangles.push_back({2 * i, 2 * i + 1, c});
    band.triangles.push_back({2 * i + 1, d, c});
  }
  EXPECT_TRUE(says(refusal(band), "Moebius"));
}

TEST(Clean, RefusesAHandle) {
  // A torus with one quad taken out: one boundary, one handle.
  constexpr VertexIndex kN = 8;
  TriMesh torus;
  for (VertexIndex i = 0; i < kN; ++i) {
    for (VertexIndex j = 0; j < kN; ++j) {
      const double a = 2 * std::numbers::pi * i / kN;
      const double b = 2 * std::numbers::pi * j / kN;
      const double r = 100 + 30 * std::cos(b);
      torus.points.push_back({r * std::cos(a), r * std::sin(a), 30 * std::sin(b)});
    }
  }
  for (VertexIndex i = 0; i < kN; ++i) {
    for (VertexIndex j = 0; j < kN; ++j) {
      if (i == 0 && j == 0) continue;
      const VertexIndex in = (i + 1) % kN;
      const VertexIndex jn = (j + 1) % kN;
      torus.triangles.push_back({i * kN + j, in * kN + j, in * kN + jn});
      torus.triangles.push_back({i * kN + j, in * kN + jn, i * kN + jn});
    }
  }
  EXPECT_TRUE(says(refusal(torus), "1 handle"));
}

TEST(Clean, AsksForTheUnitWhenTheSizeIsNoPanels) {
  TriMesh metres = sheet(4, 1.2);
  EXPECT_TRUE(says(refusal(metres), "metres read as millimetres (1200 mm)"));
  TriMesh huge = sheet(4, 1.2e6);
  EXPECT_TRUE(says(refusal(huge), "unit"));
}

TEST(Clean, PartsASurfaceThatTouchesItselfAtAVertex) {
  // A ring of triangles round a hole, pinched: the hole touches the outer edge at one vertex.
  TriMesh mesh = sheet(4);
  std::erase_if(mesh.triangles, [](const Triangle& t) {
    int hits = 0;
    for (const VertexIndex v : t) hits += v == 6 || v == 0 || v == 1 || v == 5 ? 1 : 0;
    return hits == 3;
  });
  std::erase_if(mesh.triangles, [](const Triangle& t) {
    int hits = 0;
    for (const VertexIndex v : t) hits += v == 6 || v == 7 || v == 11 || v == 12 ? 1 : 0;
    return hits == 3;
  });
  const auto result = clean(mesh, {}, {});
  ASSERT_TRUE(result) << result.error().message();
  EXPECT_EQ(boundary_loops(result->mesh).size(), 1u);
  ASSERT_FALSE(result->mends.empty());
  EXPECT_TRUE(says(result->mends[0], "parted"));
}

TEST(Clean, StopsWhenAsked) {
  const auto result = clean(sheet(), {}, Context([] { return true; }));
  ASSERT_FALSE(result);
  EXPECT_EQ(result.error().code, ErrorCode::cancelled);
}

}  // namespace
}  // namespace film::surface
