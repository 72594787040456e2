#include "workbench/cut_layout.h"

#include <gtest/gtest.h>

namespace film::workbench {
namespace {

exchange::LaidPiece square(std::string item, Vec2 low, double side) {
  exchange::LaidPiece piece;
  piece.item = std::move(item);
  piece.outline =
      make_polygon({low, low + Vec2{side, 0}, low + Vec2{side, side}, low + Vec2{0, side}}).value();
  return piece;
}

exchange::LayoutSheet sheet(std::vector<exchange::LaidPiece> pieces) {
  exchange::LayoutSheet out;
  out.name = "test";
  out.width = 500;
  out.length = 400;
  out.pieces = std::move(pieces);
  return out;
}

cutting::MachineProfile profile() {
  cutting::MachineProfile out;
  out.name = "test bench";
  out.media_width = Mm{500};
  return cutting::make_profile(out).value();
}

TEST(CutLayout, MovesALayoutWithoutMarginsClearOfTheMachines) {
  const auto cut =
      cut_layout(sheet({square("a", {0, 0}, 100), square("b", {100, 0}, 200)}), profile(), {});
  ASSERT_TRUE(cut) << cut.error().message();
  EXPECT_EQ(cut->moved, (Vec2{10, 5}));
  EXPECT_EQ(cut->plan.contours.size(), 2u);
  const auto high = cut_layout(sheet({square("a", {20, 398}, 100)}), profile(), {});
  ASSERT_TRUE(high);
  EXPECT_EQ(high->moved, (Vec2{0, -3}));
}

TEST(CutLayout, RefusesWhatWouldSpoilFilm) {
  const auto overlapping =
      cut_layout(sheet({square("a", {20, 20}, 100), square("b", {119, 20}, 100)}), profile(), {});
  ASSERT_FALSE(overlapping);
  EXPECT_EQ(overlapping.error().what, "pieces a and b overlap");
  const auto wide = cut_layout(sheet({square("a", {20, 0}, 495)}), profile(), {});
  ASSERT_FALSE(wide);
  EXPECT_EQ(wide.error().what, "the pieces lie 495.0 mm wide, but the machine reaches 490.0 mm");
  auto partly = sheet({square("a", {20, 20}, 100)});
  partly.unplaced = {"b 0: too wide"};
  EXPECT_FALSE(cut_layout(partly, profile(), {}));
  EXPECT_FALSE(cut_layout(sheet({}), profile(), {}));
}

TEST(FileOf, WritesEachForm) {
  const auto cut = cut_layout(sheet({square("a", {20, 20}, 100)}), profile(), {});
  ASSERT_TRUE(cut);
  const auto begins = [&](CutForm form, std::string_view with) {
    return file_of(*cut, form, "2031-05-04T10:00:00Z").value().substr(0, with.size()) == with;
  };
  EXPECT_TRUE(begins(CutForm::plt, "IN;\nSP1;\n"));
  EXPECT_TRUE(begins(CutForm::svg, "<?xml"));
  EXPECT_TRUE(begins(CutForm::dxf, "  0\nSECTION\n"));
  EXPECT_TRUE(begins(CutForm::pdf, "%PDF-"));
}

}  // namespace
}  // namespace film::workbench
