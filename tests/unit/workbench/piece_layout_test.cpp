#include "workbench/piece_layout.h"

#include <gtest/gtest.h>

namespace film::workbench {
namespace {

pattern::Piece piece_with_slit() {
  pattern::Piece piece;
  piece.id = "flap";
  piece.zone = "rear";
  piece.cut = make_polygon({{0, 0}, {100, 0}, {100, 50}, {0, 50}}).value();
  piece.slits = {{{0, 25}, {6, 25}}};
  return piece;
}

TEST(PieceLayout, APieceLiesByItsCutEdgeAsItsGrainAllows) {
  pattern::Piece piece = piece_with_slit();
  const auto along = items_of(std::vector{piece});
  ASSERT_EQ(along.size(), 1u);
  EXPECT_EQ(along[0].shape, piece.cut);
  EXPECT_EQ(along[0].group, "rear");
  EXPECT_EQ(along[0].turns.size(), 2u);
  piece.grain = pattern::Grain::square;
  EXPECT_EQ(items_of(std::vector{piece})[0].turns.size(), 4u);
  piece.grain = pattern::Grain::free;
  EXPECT_TRUE(items_of(std::vector{piece})[0].turns.empty());
}

TEST(PieceLayout, SlitsGoWhereThePieceGoesAndSurviveTheFile) {
  const std::vector pieces{piece_with_slit()};
  layout::Problem problem{"one", "mm", {}, items_of(pieces)};
  problem.strip.width = 200;
  const Placement half_turn{Angle::from_degrees(180).radians, {110, 60}};
  const layout::Solution solution{{{0, 0, half_turn}}, {}, 110, 0.25, 0};
  exchange::LayoutSheet sheet = exchange::make_sheet(problem, solution);
  carry_slits(pieces, sheet);
  ASSERT_EQ(sheet.pieces[0].slits.size(), 1u);
  EXPECT_EQ(sheet.pieces[0].slits[0], (Polyline{{110, 35}, {104, 35}}));
  EXPECT_EQ(exchange::read_layout_sheet(exchange::write_layout_sheet(sheet)).value(), sheet);
}

}  // namespace
}  // namespace film::workbench
