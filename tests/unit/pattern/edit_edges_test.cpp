#include "pattern/edit_edges.h"

#include <gtest/gtest.h>

#include "pattern/allowance.h"
#include "pattern/edges.h"

namespace film::pattern {
namespace {

Piece plate() {
  return piece_from_outline("plate", *make_polygon({{0, 0}, {200, 0}, {200, 100}, {0, 100}},
                                                   {{{80, 40}, {80, 60}, {120, 60}, {120, 40}}}));
}

Result<Piece> after(const Piece& piece, const EdgeEdit& edit) { return edited(piece, {&edit, 1}); }

EdgeEdit at(std::string edge) {
  EdgeEdit edit;
  edit.edge = std::move(edge);
  return edit;
}

TEST(EditEdges, DividingPutsANodeOnTheFoldAndChangesNoShape) {
  EdgeEdit edit = at("edge 1");
  edit.divide_at = Vec2{50, -3};
  const auto piece = after(plate(), edit);
  ASSERT_TRUE(piece.has_value()) << piece.error().message();
  EXPECT_EQ(piece->edges.size(), plate().edges.size() + 1);
  EXPECT_DOUBLE_EQ(area(piece->fold), area(plate().fold));
  // Numbers up to 4 are taken by the other sides.
  ASSERT_EQ(piece->edges[1].name, "edge 1 2");
  EXPECT_EQ(piece->fold.outer[piece->edges[1].first], (Vec2{50, 0}));
  EXPECT_TRUE(check_edges(*piece).has_value());
}

TEST(EditEdges, ADividedStretchTakesTwoAllowances) {
  EdgeEdit divide = at("edge 1");
  divide.divide_at = Vec2{100, 0};
  EdgeEdit hold = at("edge 1 2");
  hold.allowance = Mm{0};
  std::vector<EdgeEdit> edits{divide, hold};
  for (int k = 1; k <= 4; ++k) {
    edits.push_back(at("edge " + std::to_string(k)));
    edits.back().allowance = Mm{k == 1 ? 6.0 : 0.0};
  }
  ExtendOptions options;
  options.transition = Mm{0};
  const auto piece = extend(*edited(plate(), edits), options);
  ASSERT_TRUE(piece.has_value());
  EXPECT_NEAR(area(piece->cut) - area(piece->fold), 6 * 100, 1);
}

TEST(EditEdges, JoiningUndoesDividing) {
  EdgeEdit divide = at("edge 4");
  divide.divide_at = Vec2{0, 30};
  EdgeEdit join = at("edge 4");
  join.join_next = true;
  const auto piece = edited(plate(), std::vector<EdgeEdit>{divide, join});
  ASSERT_TRUE(piece.has_value());
  ASSERT_EQ(piece->edges.size(), plate().edges.size());
  for (std::size_t e = 0; e < piece->edges.size(); ++e) {
    EXPECT_EQ(piece->edges[e].name, plate().edges[e].name);
  }
}

TEST(EditEdges, TheLastStretchOfARingJoinsTheFirst) {
  EdgeEdit join = at("edge 4");
  join.join_next = true;
  const auto piece = after(plate(), join);
  ASSERT_TRUE(piece.has_value());
  EXPECT_EQ(piece->edges.front().name, "edge 2");
  EXPECT_TRUE(check_edges(*piece).has_value());
}

TEST(EditEdges, RefusesWhatCannotBe) {
  EdgeEdit unknown = at("roof");
  EXPECT_EQ(after(plate(), unknown).error().code, ErrorCode::not_found);
  EdgeEdit corner = at("edge 2");
  corner.divide_at = Vec2{200, 100};
  EXPECT_FALSE(after(plate(), corner).has_value());
  EdgeEdit taken = at("edge 2");
  taken.name = "edge 3";
  EXPECT_FALSE(after(plate(), taken).has_value());
  EdgeEdit nan = at("edge 2");
  nan.allowance = Mm{std::nan("")};
  EXPECT_FALSE(after(plate(), nan).has_value());
  Piece disk = piece_from_outline("disk", *make_polygon({{0, 0}, {10, 0}, {5, 8}}));
  disk.edges = {{"round", EdgeKind::gap, 0, 0, Mm{0}, Corner::round}};
  EdgeEdit join = at("round");
  join.join_next = true;
  EXPECT_FALSE(after(disk, join).has_value());
}

}  // namespace
}  // namespace film::pattern
