#include "pattern/split.h"

#include <gtest/gtest.h>

#include "base/rng.h"
#include "geometry/overlay.h"
#include "pattern/allowance.h"
#include "support/random_outlines.h"

namespace film::pattern {
namespace {

Piece plate() {
  Piece piece;
  piece.id = piece.name = "roof";
  piece.fold = *make_polygon({{0, 0}, {200, 0}, {200, 100}, {0, 100}},
                             {{{20, 40}, {20, 60}, {40, 60}, {40, 40}}});
  piece.edges = {{"front", EdgeKind::hem, 0, 0, Mm{6}, Corner::round},
                 {"right", EdgeKind::gap, 0, 1, Mm{6}, Corner::round},
                 {"rear", EdgeKind::seal, 0, 2, Mm{-1}, Corner::round},
                 {"left", EdgeKind::gap, 0, 3, Mm{6}, Corner::round},
                 {"aerial", EdgeKind::cutout, 1, 0, Mm{0}, Corner::round}};
  piece.labels = {{"r", {150, 50}, Angle{0}}};
  return piece;
}

TEST(Split, PartsKeepTheirShareOfTheEdgeAndGetASeam) {
  const auto parts = split(plate(), {{100, -5}, {100, 105}});
  ASSERT_TRUE(parts.has_value()) << parts.error().message();
  const auto& [first, second] = *parts;  // left of a line that runs up: the smaller x
  EXPECT_EQ(first.id, "roof_1");
  EXPECT_DOUBLE_EQ(area(first.fold), 10000 - 400);
  EXPECT_DOUBLE_EQ(area(second.fold), 10000);
  EXPECT_EQ(first.edges.size(), 5u);   // front, seam, rear, left, aerial
  EXPECT_EQ(second.edges.size(), 4u);  // front, right, rear, seam
  for (const EdgeStretch& edge : first.edges) {
    if (edge.name == "seam") {
      EXPECT_EQ(edge.allowance, Mm{6});
    }
  }
  EXPECT_TRUE(first.labels.empty());
  EXPECT_EQ(second.labels.size(), 1u);
  // Extended, the first reaches 6 mm under the second, which ends at the line.
  EXPECT_NEAR(bounding_box(extend(first)->cut).high.x, 106, 1e-6);
  EXPECT_NEAR(bounding_box(extend(second)->cut).low.x, 100, 1e-6);
}

TEST(Split, RefusesALineThatMissesOrLeavesSeveralPieces) {
  EXPECT_FALSE(split(plate(), {{300, 0}, {300, 100}}).has_value());
  EXPECT_FALSE(split(plate(), {{0, 0}}).has_value());
  EXPECT_FALSE(split(plate(), {{0, 0}, {0, 0}}).has_value());
  const Ring comb{{0, 0}, {90, 0}, {90, 50}, {60, 50}, {60, 20}, {30, 20}, {30, 50}, {0, 50}};
  Piece piece = plate();
  piece.fold = *make_polygon(comb);
  piece.edges = {{"all", EdgeKind::gap, 0, 0, Mm{0}, Corner::round}};
  EXPECT_FALSE(split(piece, {{-5, 30}, {95, 30}}).has_value());
}

TEST(Split, PartsOfRandomPiecesUniteToTheWhole) {
  Rng rng(31);
  int divided = 0;
  for (int round = 0; round < 200; ++round) {
    const Piece piece = support::piece_with(support::random_region(rng),
                                            [](std::size_t, std::size_t) { return 5.0; });
    const Vec2 through{rng.uniform(60, 140), rng.uniform(60, 140)};
    const Vec2 along{rng.uniform(-1, 1), rng.uniform(-1, 1)};
    const auto parts = split(piece, {through - 150 * along, through, through + 150 * along});
    if (!parts) continue;
    ++divided;
    const auto& [first, second] = *parts;
    EXPECT_TRUE(check_edges(first).has_value());
    EXPECT_TRUE(common(first.fold, second.fold).empty());
    const auto whole = united(std::vector{first.fold, second.fold});
    ASSERT_EQ(whole.size(), 1u);
    EXPECT_NEAR(area(whole[0]), area(piece.fold), 1e-3);
    EXPECT_TRUE(extend(first).has_value());
  }
  EXPECT_GT(divided, 40);
}

TEST(Split, PartsSayWhatTheyArePartsOfAndInWhichOrderTheyAreLaid) {
  const auto parts = split(plate(), {{100, -5}, {100, 105}});
  ASSERT_TRUE(parts.has_value());
  EXPECT_EQ((*parts)[0].part_of, "roof");
  EXPECT_EQ((*parts)[0].laid, 1U);
  EXPECT_EQ((*parts)[1].laid, 2U);
  const auto again = split((*parts)[1], {{150, -5}, {150, 105}});
  ASSERT_TRUE(again.has_value());
  EXPECT_EQ((*again)[1].part_of, "roof");
  EXPECT_EQ((*again)[1].laid, 3U);
}

TEST(Split, NumbersOfRunsPassOverNamesThatAreTaken) {
  Piece piece = plate();
  piece.edges[0].name = "edge";
  piece.edges[1].name = "edge 2";
  const auto parts = split(piece, {{-5, 50}, {100, 20}, {205, 50}}, {Mm{0}});
  ASSERT_TRUE(parts.has_value()) << parts.error().message();
  const auto upright = split(piece, {{100, 105}, {100, 50}, {60, 50}, {60, -5}});
  ASSERT_TRUE(upright.has_value()) << upright.error().message();
}

TEST(Split, StretchesThatMeetOnAStraightLineStayApart) {
  Piece piece = plate();
  piece.fold.outer.insert(piece.fold.outer.begin() + 1, {{60, 0}, {90, 0}});
  for (std::size_t e = 1; e < 4; ++e) piece.edges[e].first += 2;
  piece.edges.insert(piece.edges.begin() + 1, {"bib", EdgeKind::gap, 0, 1, Mm{3}, Corner::round});
  const auto parts = split(piece, {{-5, 80}, {205, 80}}, {Mm{0}});
  ASSERT_TRUE(parts.has_value()) << parts.error().message();
  std::vector<std::string> names;
  for (const EdgeStretch& edge : (*parts)[1].edges) names.push_back(edge.name);
  EXPECT_EQ(names, (std::vector<std::string>{"front", "bib", "right", "seam", "left", "aerial"}));
}

TEST(Split, AProposedLineIsTheShortestThatFits) {
  Piece bone = plate();  // a waist at x = 120
  bone.fold = *make_polygon({{0, 0},
                             {100, 0},
                             {120, 40},
                             {140, 0},
                             {240, 0},
                             {240, 100},
                             {140, 100},
                             {120, 60},
                             {100, 100},
                             {0, 100}});
  bone.cut = bone.fold;
  bone.grain = Grain::free;
  bone.edges = {{"all", EdgeKind::gap, 0, 0, Mm{0}, Corner::round}};
  const auto line = proposed_line(bone, Mm{150});
  ASSERT_TRUE(line.has_value()) << line.error().message();
  EXPECT_NEAR(line->front().x, 120, 3);
  const auto parts = split(bone, *line, {Mm{0}});
  ASSERT_TRUE(parts.has_value());
  EXPECT_NEAR(area((*parts)[0].fold) + area((*parts)[1].fold), area(bone.fold), 1e-6);
  bone.grain = Grain::along;  // 100 mm across the roll, whichever way it is divided upright
  EXPECT_FALSE(proposed_line(bone, Mm{49}).has_value());
}

}  // namespace
}  // namespace film::pattern
