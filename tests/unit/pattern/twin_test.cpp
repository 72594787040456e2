#include "pattern/twin.h"

#include <algorithm>

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

Asymmetry fuel_door() {
  return {"fuel door",
          Asymmetry::Effect::removes,
          {{70, -40}, {90, -40}, {90, -20}, {70, -20}},
          EdgeKind::cutout,
          Mm{0}};
}

TEST(Follow, ATwinTakesOverLaterEditsAndKeepsItsAsymmetry) {
  std::vector<Piece> pieces{sample(), twin(sample())};
  pieces[1].asymmetries = {fuel_door()};
  ASSERT_TRUE(follow(pieces).has_value());
  EXPECT_NEAR(area(pieces[1].fold), area(pieces[0].fold) - 400, 1e-6);
  ASSERT_EQ(pieces[1].fold.holes.size(), 2U);

  pieces[0].fold.outer[2] = {130, 80};
  pieces[0].edges[0].allowance = Mm{9};
  pieces[0] = *extend(pieces[0]);
  ASSERT_TRUE(follow(pieces).has_value());
  EXPECT_NEAR(area(pieces[1].fold), area(pieces[0].fold) - 400, 1e-6);
  EXPECT_EQ(pieces[1].id, "door_front_right");
  bool found = false;
  for (const EdgeStretch& edge : pieces[1].edges) {
    if (edge.name == "sill") {
      EXPECT_EQ(edge.allowance, Mm{9});
    }
    found = found || (edge.name == "fuel door" && edge.kind == EdgeKind::cutout);
  }
  EXPECT_TRUE(found);
  EXPECT_TRUE(check_edges(pieces[1]).has_value());
}

TEST(Follow, AnAddedAreaFillsAnOpeningThatOnlyTheOtherSideHas) {
  std::vector<Piece> pieces{sample(), twin(sample())};
  pieces[1].asymmetries = {{"no handle",
                            Asymmetry::Effect::adds,
                            {{35, -35}, {65, -35}, {65, -15}, {35, -15}},
                            EdgeKind::gap,
                            Mm{0}}};
  ASSERT_TRUE(follow(pieces).has_value());
  EXPECT_TRUE(pieces[1].fold.holes.empty());
  EXPECT_EQ(pieces[1].edges.size(), 3U);
  EXPECT_NEAR(area(pieces[1].fold), -signed_area(pieces[0].fold.holes[0]) + area(pieces[0].fold),
              1e-6);
}

TEST(Follow, AnAreaAcrossTheEdgeLeavesTheRestOfTheStretch) {
  std::vector<Piece> pieces{sample(), twin(sample())};
  pieces[1].asymmetries = {{"aerial",
                            Asymmetry::Effect::removes,
                            {{40, -20}, {60, -20}, {60, 10}, {40, 10}},
                            EdgeKind::cutout,
                            Mm{2}}};
  pieces[1].asymmetries[0].outline = {{10, -15}, {18, -15}, {18, 10}, {10, 10}};
  ASSERT_TRUE(follow(pieces).has_value());
  std::vector<std::string> names;
  for (const EdgeStretch& edge : pieces[1].edges) names.push_back(edge.name);
  EXPECT_EQ(std::count(names.begin(), names.end(), "sill"), 1);
  EXPECT_EQ(std::count(names.begin(), names.end(), "sill 2"), 1);
  EXPECT_EQ(std::count(names.begin(), names.end(), "aerial"), 1);
}

TEST(Follow, ADetachedTwinStaysAsItIs) {
  std::vector<Piece> pieces{sample(), detached(twin(sample()))};
  const Piece before = pieces[1];
  pieces[0].fold.outer[2] = {130, 80};
  pieces[0] = *extend(pieces[0]);
  ASSERT_TRUE(follow(pieces).has_value());
  EXPECT_EQ(pieces[1], before);
}

TEST(Follow, ATwinOfATwinIsMadeAfterItsOriginal) {
  Piece left = sample();
  std::vector<Piece> pieces{twin(twin(left, {"b", "b", ""}), {"c", "c", ""}),
                            twin(left, {"b", "b", ""}), left};
  pieces[2].edges[0].allowance = Mm{12};
  pieces[2] = *extend(pieces[2]);
  ASSERT_TRUE(follow(pieces).has_value());
  EXPECT_EQ(pieces[0].fold, pieces[2].fold);
  EXPECT_EQ(pieces[0].cut, pieces[2].cut);
}

TEST(Follow, RefusesRingsAndAreasThatPartOrMissThePiece) {
  Piece a = sample();
  Piece b = twin(a, {"b", "b", ""});
  a.twin_of = "b";
  a.follows = true;
  std::vector<Piece> ring{a, b};
  EXPECT_FALSE(follow(ring).has_value());

  std::vector<Piece> pieces{sample(), twin(sample())};
  for (const Asymmetry& bad : std::vector<Asymmetry>{
           {"parts", Asymmetry::Effect::removes, {{65, -90}, {75, -90}, {75, 20}, {65, 20}}},
           {"apart", Asymmetry::Effect::adds, {{500, 0}, {510, 0}, {510, 10}, {500, 10}}},
           {"all", Asymmetry::Effect::removes, {{-9, -99}, {199, -99}, {199, 99}, {-9, 99}}},
           {"crossed", Asymmetry::Effect::removes, {{0, 0}, {10, 10}, {10, 0}, {0, 11}}}}) {
    pieces[1].asymmetries = {bad};
    const std::vector<Piece> before = pieces;
    const auto done = follow(pieces);
    ASSERT_FALSE(done.has_value()) << bad.name;
    EXPECT_NE(done.error().where.find(bad.name), std::string::npos);
    EXPECT_EQ(pieces, before);
  }
}

}  // namespace
}  // namespace film::pattern
