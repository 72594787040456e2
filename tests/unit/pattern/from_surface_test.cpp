#include "pattern/from_surface.h"

#include <gtest/gtest.h>

#include "pattern/allowance.h"

namespace film::pattern {
namespace {

struct Sheet {
  TriMesh mesh;
  std::vector<Vec2> flat;
};

/// A flat grid of columns x rows cells, 10 mm each, with the middle cell left out.
Sheet sheet(VertexIndex columns, VertexIndex rows, bool opening) {
  Sheet result;
  for (VertexIndex r = 0; r <= rows; ++r) {
    for (VertexIndex c = 0; c <= columns; ++c) {
      result.mesh.points.push_back({10.0 * c, 10.0 * r, 0});
      result.flat.push_back({10.0 * c, 10.0 * r});
    }
  }
  for (VertexIndex r = 0; r < rows; ++r) {
    for (VertexIndex c = 0; c < columns; ++c) {
      if (opening && r == rows / 2 && c == columns / 2) continue;
      const VertexIndex v = r * (columns + 1) + c;
      result.mesh.triangles.push_back({v, v + 1, v + columns + 2});
      result.mesh.triangles.push_back({v, v + columns + 2, v + columns + 1});
    }
  }
  return result;
}

TEST(PieceFromSurface, TakesOutlineOpeningAndNamedStretches) {
  const Sheet s = sheet(5, 5, true);
  const std::vector<BoundaryPath> paths{{"front", EdgeKind::hem, {0, 1, 2, 3, 4, 5}},
                                        {"handle", EdgeKind::cutout, {14, 20, 21, 15}}};
  const auto piece = piece_from_surface(s.mesh, s.flat, paths);
  ASSERT_TRUE(piece.has_value()) << piece.error().message();
  EXPECT_DOUBLE_EQ(area(piece->fold), 2400);
  EXPECT_GT(signed_area(piece->fold.outer), 0);
  ASSERT_TRUE(check_edges(*piece).has_value());
  // front, and the other three sides divided at their corners; the opening is one stretch.
  ASSERT_EQ(piece->edges.size(), 5u);
  bool found = false;
  for (const EdgeStretch& edge : piece->edges) {
    if (edge.name != "front") continue;
    found = true;
    EXPECT_EQ(piece->fold.outer[edge.first], (Vec2{0, 0}));
    EXPECT_EQ(edge.allowance, default_allowance(EdgeKind::hem));
  }
  EXPECT_TRUE(found);
  EXPECT_EQ(piece->edges.back().name, "handle");
  EXPECT_EQ(piece->edges.back().ring, 1u);
}

TEST(PieceFromSurface, WithoutPathsDividesAtCorners) {
  const Sheet s = sheet(4, 3, false);
  const auto piece = piece_from_surface(s.mesh, s.flat);
  ASSERT_TRUE(piece.has_value());
  EXPECT_EQ(piece->edges.size(), 4u);
}

TEST(PieceFromSurface, RefusesAMirroredFilm) {
  Sheet s = sheet(3, 3, false);
  for (Vec2& p : s.flat) p.y = -p.y;
  const auto piece = piece_from_surface(s.mesh, s.flat);
  ASSERT_FALSE(piece.has_value());
  EXPECT_NE(piece.error().what.find("mirrored"), std::string::npos);
}

TEST(PieceFromSurface, RefusesPathsThatDoNotFollowTheBoundary) {
  const Sheet s = sheet(3, 3, false);
  const auto refused = [&s](std::vector<VertexIndex> path) {
    const std::vector<BoundaryPath> paths{{"a", EdgeKind::gap, std::move(path)}};
    return !piece_from_surface(s.mesh, s.flat, paths).has_value();
  };
  EXPECT_TRUE(refused({0, 2}));
  EXPECT_TRUE(refused({3, 2, 1}));
  EXPECT_TRUE(refused({5, 6}));
  EXPECT_TRUE(refused({}));
  EXPECT_TRUE(refused({0, 99}));
  EXPECT_FALSE(refused({0, 1, 2}));
}

TEST(PieceFromSurface, RefusesOverlappingPathsAndWrongSizes) {
  const Sheet s = sheet(3, 3, false);
  const std::vector<BoundaryPath> paths{{"a", EdgeKind::gap, {0, 1, 2}},
                                        {"b", EdgeKind::gap, {1, 2, 3}}};
  EXPECT_FALSE(piece_from_surface(s.mesh, s.flat, paths).has_value());
  EXPECT_FALSE(piece_from_surface(s.mesh, std::span(s.flat).first(3)).has_value());
}

}  // namespace
}  // namespace film::pattern
