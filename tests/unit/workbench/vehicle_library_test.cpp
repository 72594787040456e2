#include "workbench/vehicle_library.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "exchange/library_file.h"
#include "pattern/edges.h"
#include "pattern/twin.h"
#include "store/store.h"
#include "workbench/make_pieces.h"
#include "workbench/move_job.h"
#include "workbench/open_job.h"
#include "workbench/shape_pieces.h"

namespace film::workbench {
namespace {

using shop::Standing;

pattern::Piece rectangle(const std::string& id, double width) {
  return *pattern::extend(
      pattern::piece_from_outline(id, *make_polygon({{0, 0}, {width, 0}, {width, 100}, {0, 100}})));
}

shop::VehicleModel wagon() {
  shop::VehicleModel model;
  model.id = "wagon";
  model.name = "Example wagon";
  for (const char* id : {"flank_left", "flank_right"}) {
    shop::Panel panel;
    panel.id = panel.name = id;
    panel.zone = "left";
    panel.pieces = {rectangle("flank_left", 300)};
    model.panels.push_back(std::move(panel));
  }
  model.panels[1].twin_of = "flank_left";
  model.panels[1].pieces = {pattern::twin(model.panels[0].pieces[0])};
  return model;
}

class Library : public testing::Test {
 protected:
  void SetUp() override {
    book_ = std::move(*workbench_in_memory());
    ASSERT_TRUE(book_->store()
                    .change([](store::Book& book) -> Result<void> {
                      shop::Film film;
                      film.id = "clear";
                      film.name = "Example clear";
                      film.colour = "#f0f4f8";
                      film.suits = {shop::Finish::gloss_paint};
                      book.put(film);
                      (void)book.receive(shop::Roll{"R-1", "clear", "LOT", Mm{1524}, Mm{15000},
                                                    Mm{15000}, "2031-05-04", ""},
                                         "", "");
                      return book.add(wagon());
                    })
                    .has_value());
  }
  std::string open() {
    NewJob order;
    order.title = "Flanks";
    order.vehicle = "wagon";
    order.scope = {{"flank_left", "clear"}, {"flank_right", "clear"}};
    const auto job = open_job(*book_, order, "test");
    EXPECT_TRUE(job.has_value()) << job.error().message();
    return job->id;
  }
  Result<int> change(double width, Standing standing, int based_on = 0) {
    return add_version(*book_, {"wagon",
                                based_on,
                                {{"flank_left", {rectangle("flank_left", width)}}},
                                "B. Installer",
                                "longer",
                                standing});
  }
  double width_of(int version, const std::string& panel) {
    const auto model = book_->vehicle("wagon", version);
    return bounding_box(shop::find_panel(**model, panel)->pieces[0].fold).width();
  }

  std::unique_ptr<Workbench> book_;
};

TEST_F(Library, AProposedVersionIsUsedOnceItIsAccepted) {
  const auto version = change(320, Standing::proposed);
  ASSERT_TRUE(version.has_value()) << version.error().message();
  EXPECT_EQ(*version, 2);
  EXPECT_EQ((*book_->vehicle("wagon"))->version, 1);
  ASSERT_TRUE(set_standing(*book_, "wagon", 2, Standing::accepted).has_value());
  EXPECT_EQ((*book_->vehicle("wagon"))->version, 2);
  EXPECT_EQ((*book_->vehicle("wagon"))->based_on, 1);
  EXPECT_EQ(width_of(2, "flank_left"), 320);
  EXPECT_EQ(width_of(2, "flank_right"), 320);  // the twin follows
  EXPECT_EQ(width_of(1, "flank_left"), 300);   // what was there stays
}

TEST_F(Library, AUsedVersionCannotBeRemovedAndANumberIsNeverGivenTwice) {
  open();
  const auto used = set_standing(*book_, "wagon", 1, Standing::removed);
  ASSERT_FALSE(used.has_value());
  EXPECT_EQ(used.error().code, ErrorCode::conflict);
  ASSERT_TRUE(change(320, Standing::proposed).has_value());
  ASSERT_TRUE(set_standing(*book_, "wagon", 2, Standing::removed).has_value());
  EXPECT_FALSE(
      book_->store().look([](store::Book& b) { return b.vehicle("wagon", 2); })->has_value());
  EXPECT_EQ(*change(330, Standing::accepted), 3);
  const auto versions = vehicle_versions(*book_, "wagon");
  ASSERT_EQ(versions->size(), 3U);
  EXPECT_EQ((*versions)[0].jobs, 1U);
  EXPECT_EQ((*versions)[1].standing, Standing::removed);
  EXPECT_FALSE(set_standing(*book_, "wagon", 2, Standing::accepted).has_value());
}

TEST_F(Library, WhatIsExportedComesInElsewhereAndBackAgainUnchanged) {
  ASSERT_TRUE(change(320, Standing::accepted).has_value());
  const auto file = export_vehicle(*book_, "wagon");
  ASSERT_TRUE(file.has_value()) << file.error().message();
  const auto other = std::move(*workbench_in_memory());
  const auto imported = import_vehicle(*other, *file, "wagon.zip", Numbering::keep);
  ASSERT_TRUE(imported.has_value()) << imported.error().message();
  EXPECT_EQ(imported->lines.size(), 2U);
  EXPECT_EQ(**other->vehicle("wagon"), **book_->vehicle("wagon"));
  EXPECT_EQ(*export_vehicle(*other, "wagon"), *file);
  const auto again = import_vehicle(*book_, *file, "wagon.zip", Numbering::keep);
  ASSERT_TRUE(again.has_value());
  EXPECT_FALSE(again->lines[0].added || again->lines[1].added);
  EXPECT_EQ(export_vehicle(*book_, "wagon", {7}).error().code, ErrorCode::not_found);
}

TEST_F(Library, AnotherVersionUnderATakenNumberIsAConflictOrGetsANewNumber) {
  const auto other = std::move(*workbench_in_memory());
  ASSERT_TRUE(
      import_vehicle(*other, *export_vehicle(*book_, "wagon"), "f", Numbering::keep).has_value());
  ASSERT_TRUE(change(320, Standing::accepted).has_value());
  const auto ours = add_version(*other, {"wagon",
                                         0,
                                         {{"flank_left", {rectangle("flank_left", 400)}}},
                                         "",
                                         "ours",
                                         Standing::proposed});
  ASSERT_EQ(*ours, 2);
  const auto file = export_vehicle(*other, "wagon");
  const auto refused = import_vehicle(*book_, *file, "wagon.zip", Numbering::keep);
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().code, ErrorCode::conflict);
  EXPECT_NE(refused.error().where.find("version 2"), std::string::npos);
  EXPECT_EQ(vehicle_versions(*book_, "wagon")->size(), 2U);

  for (int round = 0; round < 2; ++round) {  // the second time it is known under its new number
    const auto taken = import_vehicle(*book_, *file, "wagon.zip", Numbering::renew);
    ASSERT_TRUE(taken.has_value()) << taken.error().message();
    EXPECT_EQ(taken->lines[1].here, 3);
    EXPECT_EQ(taken->lines[1].added, round == 0);
  }
  EXPECT_EQ(width_of(2, "flank_left"), 320);
  EXPECT_EQ(width_of(3, "flank_left"), 400);
}

TEST_F(Library, ABrokenFileImportsNothing) {
  ASSERT_TRUE(change(320, Standing::accepted).has_value());
  std::string file = *export_vehicle(*book_, "wagon");
  file.resize(file.size() - 30);
  const auto other = std::move(*workbench_in_memory());
  const auto refused = import_vehicle(*other, file, "wagon.zip", Numbering::keep);
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().where, "wagon.zip");
  EXPECT_FALSE(other->vehicle("wagon").has_value());
}

TEST_F(Library, EditsOfAJobsPieceBecomeAVersionThatTheJobTakesUp) {
  const std::string job = open();
  pattern::EdgeEdit edit;
  edit.edge = "edge 2";
  edit.allowance = Mm{12};
  const auto shown = edit_job_piece(*book_, job, "flank_left", {edit});
  ASSERT_TRUE(shown.has_value()) << shown.error().message();
  EXPECT_NEAR(bounding_box(shown->piece.cut).width(), 300 + 12 + 6.35, 0.1);
  EXPECT_FALSE(edit_job_piece(*book_, job, "flank_right", {edit}).has_value());  // it follows

  const auto kept =
      keep_job_piece(*book_, job, "flank_left", {edit}, "B. Cutter", "sill", Standing::accepted);
  ASSERT_TRUE(kept.has_value()) << kept.error().message();
  const auto made = make_pieces(*book_, job, {});
  ASSERT_EQ(made->pieces.size(), 2U);
  for (const JobPiece& piece : made->pieces) {
    EXPECT_NEAR(bounding_box(piece.piece.cut).width(), 300 + 12 + 6.35, 0.1) << piece.panel;
  }
}

TEST_F(Library, AProposalLeavesTheJobAsItIs) {
  const std::string job = open();
  pattern::EdgeEdit edit;
  edit.edge = "edge 2";
  edit.allowance = Mm{12};
  ASSERT_EQ(*keep_job_piece(*book_, job, "flank_left", {edit}, "", "sill", Standing::proposed), 2);
  EXPECT_EQ(
      book_->store().look([&](store::Book& b) { return b.job(job); })->value().vehicle_version, 1);
  EXPECT_FALSE(
      keep_job_piece(*book_, job, "flank_left", {edit}, "", "", Standing::proposed).has_value());
}

TEST_F(Library, EveryPartOfADividedPanelIsLaid) {
  const auto parts = split_piece(std::vector<pattern::Piece>{rectangle("flank_left", 300)},
                                 "flank_left", {{150, -9}, {150, 109}}, Mm{6});
  ASSERT_TRUE(parts.has_value());
  auto right = wagon().panels[1].pieces[0];
  right = pattern::detached(right);
  ASSERT_TRUE(add_version(*book_, {"wagon",
                                   0,
                                   {{"flank_left", *parts}, {"flank_right", {right}}},
                                   "",
                                   "in two",
                                   Standing::accepted})
                  .has_value());
  const auto made = make_pieces(*book_, open(), {});
  ASSERT_TRUE(made.has_value());
  EXPECT_EQ(made->pieces.size(), 3U);
}

TEST_F(Library, RefusesChangesThatBreakTheVehicle) {
  EXPECT_EQ(
      add_version(*book_, {"wagon", 0, {{"roof", {}}}, "", "x", Standing::proposed}).error().code,
      ErrorCode::not_found);
  // Without its original the twin of the other side cannot follow.
  EXPECT_FALSE(
      add_version(
          *book_,
          {"wagon", 0, {{"flank_left", {rectangle("other", 10)}}}, "", "x", Standing::proposed})
          .has_value());
  EXPECT_EQ(vehicle_versions(*book_, "wagon")->size(), 1U);
}

}  // namespace
}  // namespace film::workbench
