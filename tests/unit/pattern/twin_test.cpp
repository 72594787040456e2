#include "pattern/twin.h"

#include <gtest/gtest.h>

#include "pattern/allowance.h"

namespace film::pattern {
namespace {

Piece sample() {
  Piece piece;
  piece.id = "door_front_left";
  piece.name = "Left front door, bright";
  piece.zone = "left";
  piece.fold = *make_polygon({{0, 0}, {100, 5}, {110, 60}, {20, 70}},
                             {{{40, 20}, {40, 30}, {60, 30}, {60, 20}}});
  piece.edges = {{"sill", EdgeKind::hem, 0, 0, Mm{6}, Corner::notch},
                 {"hinge", EdgeKind::gap, 0, 1, Mm{4}, Corner::round},
                 {"top", EdgeKind::seal, 0, 3, Mm{-1}, Corner::closed},
                 {"handle", EdgeKind::cutout, 1, 2, Mm{0}, Corner::round}};
  piece.slits = {{{50, -6}, {50, -1}}};
  piece.labels = {{"front left", {50, 40}, Angle{0.3}}};
  return *extend(piece);
}

TEST(Mirrored, TwiceIsTheSame) {
  const Piece piece = sample();
  EXPECT_EQ(mirrored(mirrored(piece)), piece);
}

TEST(Mirrored, StretchesKeepTheirPlaceOnThePanel) {
  const Piece piece = sample();
  const Piece other = mirrored(piece);
  ASSERT_TRUE(check_edges(other).has_value());
  for (const EdgeStretch& edge : other.edges) {
    if (edge.name != "sill") continue;  // ran (0,0) -> (100,5); now (100,-5) -> (0,0)
    EXPECT_EQ(other.fold.outer[edge.first], (Vec2{100, -5}));
    EXPECT_EQ(edge.corner, Corner::round);  // the corner at (100, 5) was the hinge's
    EXPECT_EQ(edge.allowance, Mm{6});
  }
}

TEST(Mirrored, ExtendsToTheMirroredCut) {
  const Piece other = *extend(mirrored(sample()));
  EXPECT_NEAR(area(other.cut), area(sample().cut), 1e-4);
  EXPECT_EQ(other.slits.size(), sample().slits.size());
}

TEST(Twin, ExchangesSidesInNames) {
  const Piece other = twin(sample());
  EXPECT_EQ(other.id, "door_front_right");
  EXPECT_EQ(other.name, "Right front door, bright");
  EXPECT_EQ(other.zone, "right");
  EXPECT_EQ(other.twin_of, "door_front_left");
  EXPECT_EQ(other.labels[0].text, "front right");
  EXPECT_EQ(other.labels[0].at, (Vec2{50, -40}));
}

TEST(Twin, APieceWithoutASideGetsANewId) {
  Piece piece = sample();
  piece.id = "brighton";
  EXPECT_EQ(other_side(piece).id, "brighton_twin");
}

}  // namespace
}  // namespace film::pattern
