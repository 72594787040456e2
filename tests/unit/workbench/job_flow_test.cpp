// The use cases from a job to its cut file, on a vehicle of a few flat panels whose pieces are
// known in advance.

#include <algorithm>
#include <memory>

#include <gtest/gtest.h>

#include "store/store.h"
#include "workbench/browse.h"
#include "workbench/edit_layout.h"
#include "workbench/lay_out_job.h"
#include "workbench/make_pieces.h"
#include "workbench/move_job.h"
#include "workbench/open_job.h"
#include "workbench/plan_job_cut.h"
#include "workbench/study_panel.h"
#include "workbench/study_vehicle.h"
#include "workbench/write_cut_file.h"

namespace film::workbench {
namespace {

/// A flat sheet of length x height in the plane y = `y`, its outside towards +y (left panels) or
/// towards -y when `right`.
shop::Panel sheet(const std::string& id, double length, double height, double y, bool right) {
  shop::Panel panel;
  panel.id = id;
  panel.name = "Sheet " + id;
  panel.zone = right ? "right" : "left";
  panel.side = right ? shop::Side::right : shop::Side::left;
  constexpr VertexIndex kAcross = 6;
  for (VertexIndex j = 0; j <= kAcross; ++j) {
    for (VertexIndex i = 0; i <= kAcross; ++i) {
      panel.surface.points.push_back(
          {100 + length * i / kAcross, right ? -y : y, 300 + height * j / kAcross});
    }
  }
  for (VertexIndex j = 0; j < kAcross; ++j) {
    for (VertexIndex i = 0; i < kAcross; ++i) {
      const VertexIndex a = j * (kAcross + 1) + i;
      const VertexIndex d = a + kAcross + 1;
      Triangle t{a, d, d + 1};
      Triangle u{a, d + 1, a + 1};
      if (right) std::swap(t[1], t[2]);
      if (right) std::swap(u[1], u[2]);
      panel.surface.triangles.push_back(t);
      panel.surface.triangles.push_back(u);
    }
  }
  return panel;
}

shop::Film film(const std::string& id) {
  shop::Film film;
  film.id = id;
  film.name = "Film " + id;
  film.suits = {shop::Finish::gloss_paint};
  return film;
}

class JobFlow : public testing::Test {
 protected:
  void SetUp() override {
    workbench_ = workbench_in_memory().value();
    shop::VehicleModel vehicle;
    vehicle.id = "box";
    vehicle.name = "A box on wheels";
    vehicle.panels = {sheet("side_left", 600, 400, 500, false),
                      sheet("side_right", 600, 400, 500, true),
                      sheet("small", 200, 100, 500, false), sheet("window", 300, 200, 500, false)};
    vehicle.panels[1].twin_of = "side_left";
    vehicle.panels[3].finish = shop::Finish::glass;
    // Two sheets that do not hang together.
    shop::Panel broken = sheet("broken", 300, 200, 500, false);
    const shop::Panel other = sheet("other", 300, 200, 900, false);
    for (Triangle t : other.surface.triangles) {
      for (VertexIndex& v : t) v += static_cast<VertexIndex>(broken.surface.points.size());
      broken.surface.triangles.push_back(t);
    }
    broken.surface.points.insert(broken.surface.points.end(), other.surface.points.begin(),
                                 other.surface.points.end());
    vehicle.panels.push_back(broken);
    ASSERT_TRUE(workbench_->store().change([&](store::Book& book) {
      shop::Settings settings;
      settings.name = "Test shop";
      book.put(settings);
      book.put(film("clear"));
      book.put(film("tinted"));
      (void)book.receive(
          shop::Roll{"R-1", "clear", "L1", Mm{1524}, Mm{3000}, Mm{3000}, "2031-05-04", ""}, "", "");
      (void)book.receive(
          shop::Roll{"R-2", "tinted", "L2", Mm{1524}, Mm{400}, Mm{400}, "2031-05-04", ""}, "", "");
      shop::KnifeProfile profile;
      profile.id = "plotter";
      profile.settings.name = "Plotter";
      book.put(profile);
      return book.add(vehicle);
    }));
  }

  std::string open(std::vector<shop::ScopeItem> scope) {
    return open_job(*workbench_, {"Job", "", "box", std::move(scope)}, "tester").value().id;
  }
  std::string open_sides() { return open({{"side_left", "clear"}, {"side_right", "clear"}}); }

  Result<LayoutView> lay_out(const std::string& job, const std::string& film_id = "") {
    LayoutOrder order;
    order.job = job;
    order.film = film_id;
    order.seconds = 0.3;
    return lay_out_job(*workbench_, order, {});
  }
  shop::JobState state_of(const std::string& id) { return job(*workbench_, id).value().job.state; }

  std::unique_ptr<Workbench> workbench_;
};

TEST_F(JobFlow, AFlatPanelIsStudiedAtItsTrueSize) {
  const auto study = study_panel(*workbench_, "box", "side_left", "clear", {});
  ASSERT_TRUE(study) << study.error().message();
  EXPECT_NEAR(area((*study)->piece.fold), 600.0 * 400, 1e-6 * 600 * 400);
  EXPECT_NEAR((*study)->report.peak_stretch, 1, 1e-6);
  EXPECT_TRUE((*study)->reach.fits);
  EXPECT_EQ((*study)->laying.method.choice, surface::Choice::precut);
  // Gap edges are tucked by a quarter inch (common practice), so the cut is larger all round.
  EXPECT_GT(area((*study)->piece.cut), (600.0 + 12) * (400 + 12));
}

TEST_F(JobFlow, TheRightSideIsTheLeftOneMirrored) {
  const auto left = study_panel(*workbench_, "box", "side_left", "clear", {}).value();
  const auto right = study_panel(*workbench_, "box", "side_right", "clear", {}).value();
  EXPECT_EQ(right->piece.cut, mirrored(left->piece.cut));
  EXPECT_EQ(right->piece.twin_of, "side_left");
  EXPECT_EQ(right->piece.id, "side_right");
  ASSERT_EQ(right->surface.points.size(), left->surface.points.size());
  for (std::size_t i = 0; i < left->surface.points.size(); ++i) {
    EXPECT_EQ(right->surface.points[i].y, -left->surface.points[i].y);
    EXPECT_EQ(right->flattening.flat[i].y, -left->flattening.flat[i].y);
  }
}

TEST_F(JobFlow, FoldsAreToldWhereFilmWillNotLieAndMirroredOnTheTwin) {
  // A sheet raised into a dome, which no film covers without giving way (Gauss).
  const auto dome = [](const std::string& id, bool right) {
    shop::Panel panel = sheet(id, 600, 400, 500, right);
    for (Vec3& p : panel.surface.points) {
      const double u = (p.x - 400) / 300;
      const double v = (p.z - 500) / 200;
      p.y += (right ? -150 : 150) * (1 - u * u) * (1 - v * v);
    }
    return panel;
  };
  shop::VehicleModel vehicle;
  vehicle.id = "domes";
  vehicle.name = "Two domes";
  vehicle.panels = {dome("left", false), dome("right", true), sheet("flat", 600, 400, 500, false)};
  vehicle.panels[1].twin_of = "left";
  ASSERT_TRUE(workbench_->store().change([&](store::Book& book) { return book.add(vehicle); }));
  const auto left = study_panel(*workbench_, "domes", "left", "clear", {}).value();
  const auto right = study_panel(*workbench_, "domes", "right", "clear", {}).value();
  EXPECT_GT(left->report.finger_area, 0);
  ASSERT_FALSE(left->fingers.empty());
  ASSERT_EQ(right->fingers.size(), left->fingers.size());
  for (std::size_t i = 0; i < left->fingers.size(); ++i) {
    const surface::Finger& finger = left->fingers[i];
    if (i > 0) {
      EXPECT_LE(finger.length, left->fingers[i - 1].length);
    }
    ASSERT_GE(finger.on_film.size(), 2u);
    ASSERT_EQ(finger.on_film.size(), finger.on_panel.size());
    for (std::size_t k = 0; k < finger.on_film.size(); ++k) {
      EXPECT_EQ(right->fingers[i].on_film[k].y, -finger.on_film[k].y);
      EXPECT_EQ(right->fingers[i].on_panel[k].y, -finger.on_panel[k].y);
    }
  }
  EXPECT_TRUE(study_panel(*workbench_, "domes", "flat", "clear", {}).value()->fingers.empty());
}

TEST_F(JobFlow, OneBadPanelIsToldAndStopsNoOther) {
  const std::string id = open({{"broken", "clear"}, {"small", "clear"}});
  const auto made = make_pieces(*workbench_, id, {});
  ASSERT_TRUE(made);
  ASSERT_EQ(made->pieces.size(), 1u);
  EXPECT_EQ(made->pieces[0].panel, "small");
  ASSERT_EQ(made->failures.size(), 1u);
  EXPECT_EQ(made->failures[0].panel, "broken");
  const auto refused = lay_out(id);
  ASSERT_FALSE(refused);
  EXPECT_NE(refused.error().where.find("broken"), std::string::npos);
  EXPECT_EQ(state_of(id), shop::JobState::scoped);
}

TEST_F(JobFlow, AJobIsOpenedOnlyWithWhatFits) {
  const auto opened = [this](const NewJob& order) { return open_job(*workbench_, order, "t"); };
  EXPECT_EQ(opened({"J", "", "boat", {{"small", "clear"}}}).error().code, ErrorCode::not_found);
  EXPECT_EQ(opened({"J", "", "box", {{"wing", "clear"}}}).error().code, ErrorCode::not_found);
  EXPECT_EQ(opened({"J", "", "box", {{"small", "gold"}}}).error().code, ErrorCode::not_found);
  EXPECT_EQ(opened({"J", "", "box", {{"window", "clear"}}}).error().code, ErrorCode::invalid_input);
  EXPECT_EQ(opened({"", "", "box", {{"small", "clear"}}}).error().code, ErrorCode::invalid_input);
  EXPECT_TRUE(jobs(*workbench_).value().jobs.empty());
}

TEST_F(JobFlow, FromScopeToReleaseEachStepMovesTheJob) {
  const std::string id = open_sides();
  EXPECT_EQ(plan_job_cut(*workbench_, {id, "", "", "plotter"}, {}).error().code,
            ErrorCode::not_found);

  const auto laid = lay_out(id);
  ASSERT_TRUE(laid) << laid.error().message();
  EXPECT_EQ(state_of(id), shop::JobState::laid_out);
  EXPECT_EQ(laid->sheet.pieces.size(), 2u);
  EXPECT_EQ(read_layout(*workbench_, id, "")->sheet, laid->sheet);

  const auto cut = plan_job_cut(*workbench_, {id, "", "", "plotter"}, {});
  ASSERT_TRUE(cut) << cut.error().message();
  EXPECT_EQ(state_of(id), shop::JobState::cut_planned);
  EXPECT_EQ(read_cut(*workbench_, id, "")->plan, cut->plan);
  const auto plot = write_cut_file(*workbench_, id, "", CutForm::plt).value();
  EXPECT_EQ(plot.name, id + "-clear-R-1.plt");

  const auto released = move_job(*workbench_, {id, shop::JobState::released, "", {}}, "tester");
  ASSERT_TRUE(released) << released.error().message();
  const auto stock = rolls(*workbench_).value();
  EXPECT_EQ(stock[0].remaining, Mm{3000});  // booked when it is cut
  EXPECT_EQ(lay_out(id).error().code, ErrorCode::conflict);

  std::vector<std::string> done;
  const auto entries = history(*workbench_, id).value();
  for (const auto& entry : entries) done.push_back(entry.what);
  EXPECT_EQ(done, (std::vector<std::string>{"opened", "layout kept", "knife path planned",
                                            "moved to released"}));

  const auto back = move_job(*workbench_, {id, shop::JobState::scoped, "torn", {}}, "tester");
  ASSERT_TRUE(back);
  EXPECT_EQ(read_layout(*workbench_, id, "").error().code, ErrorCode::not_found);
  EXPECT_EQ(rolls(*workbench_).value()[0].remaining, stock[0].remaining);
}

TEST_F(JobFlow, AHandMovesAPieceAndWhatItBreaksIsNamed) {
  const std::string id = open_sides();
  const LayoutView laid = lay_out(id).value();
  LayoutEdit edit{id, "clear", laid.kept.sheet, laid.sheet.pieces, {}};
  EXPECT_TRUE(check_edit(*workbench_, edit)->clashes.empty());
  EXPECT_EQ(check_edit(*workbench_, edit)->length, laid.sheet.length);

  // One piece on top of the other.
  edit.pieces[1].rotation_deg = edit.pieces[0].rotation_deg;
  edit.pieces[1].move = edit.pieces[0].move;
  const auto on_top = check_edit(*workbench_, edit).value();
  ASSERT_FALSE(on_top.clashes.empty());
  EXPECT_EQ(on_top.clashes[0].rule, layout::Rule::overlap);
  EXPECT_EQ(on_top.clashes[0].pieces.size(), 2u);
  EXPECT_FALSE(check_edit(*workbench_, edit, 1)->clashes.empty());
  EXPECT_EQ(keep_edit(*workbench_, edit, "tester").error().code, ErrorCode::conflict);

  // The other gives way, the kept one does not move.
  const std::size_t kept = 1;
  const auto roomy = make_room_for(*workbench_, edit, std::span(&kept, 1), {}).value();
  edit.pieces = roomy.pieces;
  EXPECT_TRUE(check_edit(*workbench_, edit)->clashes.empty());
  const auto edited = keep_edit(*workbench_, edit, "tester");
  ASSERT_TRUE(edited) << edited.error().message();
  EXPECT_EQ(edited->sheet.pieces[0].label, "Sheet side_left");
  EXPECT_EQ(read_layout(*workbench_, id, "")->sheet, edited->sheet);
  EXPECT_EQ(history(*workbench_, id)->back().what, "layout edited by hand");
  // The layout that was edited is no longer the kept one.
  edit.of = laid.kept.sheet;
  EXPECT_EQ(check_edit(*workbench_, edit).error().code, ErrorCode::conflict);
}

TEST_F(JobFlow, APieceThatClashesSettlesInTheNearestFreePlace) {
  const std::string id = open_sides();
  const LayoutView laid = lay_out(id).value();
  LayoutEdit edit{id, "clear", laid.kept.sheet, laid.sheet.pieces, {}};
  const Vec2 before = edit.pieces[0].move;
  edit.pieces[0].move.y -= 8;  // over the edge, towards y = 0
  const Vec2 over = edit.pieces[0].move;
  edit.pieces[1].move.x += 1500;  // out of the way
  const auto place = settle(*workbench_, edit, 0, 40).value();
  if (check_edit(*workbench_, edit, 0)->clashes.empty()) {
    EXPECT_EQ(place, over);
  } else {
    ASSERT_TRUE(place);
    EXPECT_LE(distance(*place, over), distance(before, over) + 0.1);
    edit.pieces[0].move = *place;
    EXPECT_TRUE(check_edit(*workbench_, edit, 0)->clashes.empty());
  }
  edit.pieces[0].move.y = -1000;
  EXPECT_FALSE(settle(*workbench_, edit, 0, 40).value());
}

TEST_F(JobFlow, ASearchGoesOnFromAnEditedLayoutAndAvoidsFaultyFilm) {
  const std::string id = open_sides();
  const LayoutView laid = lay_out(id).value();
  SqueezeOrder order;
  order.edit = {id, "clear", laid.kept.sheet, laid.sheet.pieces, {}};
  order.edit.defects = std::vector{Box{{100, 0}, {200, 1524}}};  // right across the roll
  order.seconds = 0.3;
  const Box before = bounding_box(laid.sheet.pieces[0].outline);
  EXPECT_EQ(check_edit(*workbench_, order.edit)->clashes.at(0).rule, layout::Rule::defect);
  const auto squeezed = squeeze_layout(*workbench_, order, {});
  ASSERT_TRUE(squeezed) << squeezed.error().message();
  EXPECT_GT(squeezed->sheet.length, 200 + before.width());  // nothing fits before the fault
  EXPECT_EQ(read_layout(*workbench_, id, "")->problem.strip.defects.size(), 1u);
  EXPECT_EQ(history(*workbench_, id)->back().what, "layout squeezed");
}

TEST_F(JobFlow, ASearchThatGoesOnLeavesLockedPiecesWhereTheyAre) {
  const std::string id = open_sides();
  const LayoutView laid = lay_out(id).value();
  SqueezeOrder order;
  order.edit = {id, "clear", laid.kept.sheet, {}, {}};
  order.locked = {laid.sheet.pieces[0]};
  order.locked[0].move.x += 300;
  order.seconds = 0.3;
  const auto again = squeeze_layout(*workbench_, order, {});
  ASSERT_TRUE(again) << again.error().message();
  EXPECT_EQ(again->sheet.pieces[0].move, order.locked[0].move);
  order.edit.of = again->kept.sheet;
  order.locked[0].item = "wing";
  EXPECT_EQ(squeeze_layout(*workbench_, order, {}).error().code, ErrorCode::invalid_input);
}

TEST_F(JobFlow, EveryFilmNeedsItsLayout) {
  const std::string id = open({{"side_left", "clear"}, {"small", "tinted"}});
  ASSERT_TRUE(lay_out(id, "clear"));
  EXPECT_EQ(state_of(id), shop::JobState::scoped);
  ASSERT_TRUE(lay_out(id, "tinted"));
  EXPECT_EQ(state_of(id), shop::JobState::laid_out);
  EXPECT_EQ(lay_out(id, "gold").error().code, ErrorCode::not_found);
}

TEST_F(JobFlow, WhatDoesNotFitTheRollIsRefusedAndNothingIsKept) {
  const std::string id = open({{"side_left", "tinted"}, {"side_right", "tinted"}});
  ASSERT_TRUE(workbench_->store().change([](store::Book& book) {
    (void)book.enter(*shop::count(*book.roll("R-2"), Mm{300}, "tape"));
  }));
  const auto refused = lay_out(id);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, ErrorCode::unsupported);
  EXPECT_FALSE(refused.error().remedy.empty());
  EXPECT_TRUE(job(*workbench_, id)->layouts.empty());
}

TEST_F(JobFlow, AMoveDecidedOnAnOldViewIsRefused) {
  const std::string id = open_sides();
  const auto before = job(*workbench_, id)->job.revision;
  ASSERT_TRUE(lay_out(id));
  const auto stale = move_job(*workbench_, {id, shop::JobState::cancelled, "no", before}, "tester");
  ASSERT_FALSE(stale);
  EXPECT_EQ(stale.error().code, ErrorCode::conflict);
}

TEST_F(JobFlow, AVehicleIsStudiedWhereTheFilmSuits) {
  std::vector<std::string> ready, failed;
  const auto done = study_vehicle(*workbench_, "box", "clear",
                                  [&](const std::string& panel, const auto& study) {
                                    (study ? ready : failed).push_back(panel);
                                  },
                                  {});
  ASSERT_TRUE(done);
  EXPECT_EQ(ready, (std::vector<std::string>{"side_left", "side_right", "small"}));
  EXPECT_EQ(failed, (std::vector<std::string>{"broken"}));
}

}  // namespace
}  // namespace film::workbench
