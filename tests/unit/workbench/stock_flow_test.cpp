// Film in stock through the use cases: several rolls and offcuts for one film, and recuts.

#include <algorithm>
#include <memory>

#include <gtest/gtest.h>

#include "layout/verify.h"
#include "store/store.h"
#include "workbench/book_run.h"
#include "workbench/book_stock.h"
#include "workbench/browse.h"
#include "workbench/cards.h"
#include "workbench/claims.h"
#include "workbench/install_piece.h"
#include "workbench/keep_offcut.h"
#include "workbench/lay_out_job.h"
#include "workbench/move_job.h"
#include "workbench/open_job.h"
#include "workbench/plan_job_cut.h"
#include "workbench/read_stock.h"
#include "workbench/recut_piece.h"

namespace film::workbench {
namespace {

/// A flat panel in the plane of the vehicle's left side.
shop::Panel flat_panel(const std::string& id, double length, double height) {
  shop::Panel panel;
  panel.id = id;
  panel.name = "Panel " + id;
  panel.zone = "left";
  panel.side = shop::Side::left;
  constexpr VertexIndex kAcross = 6;
  for (VertexIndex j = 0; j <= kAcross; ++j) {
    for (VertexIndex i = 0; i <= kAcross; ++i) {
      panel.surface.points.push_back({100 + length * i / kAcross, 500, 300 + height * j / kAcross});
    }
  }
  for (VertexIndex j = 0; j < kAcross; ++j) {
    for (VertexIndex i = 0; i < kAcross; ++i) {
      const VertexIndex a = j * (kAcross + 1) + i;
      const VertexIndex d = a + kAcross + 1;
      panel.surface.triangles.push_back({a, d, d + 1});
      panel.surface.triangles.push_back({a, d + 1, a + 1});
    }
  }
  return panel;
}

Polygon rectangle(double length, double width) {
  return {{{0, 0}, {length, 0}, {length, width}, {0, width}}, {}};
}

class StockFlow : public testing::Test {
 protected:
  void SetUp() override {
    workbench_ = workbench_in_memory().value();
    shop::VehicleModel vehicle;
    vehicle.id = vehicle.name = "box";
    for (const char* id : {"first", "second", "third"}) {
      vehicle.panels.push_back(flat_panel(id, 600, 400));
    }
    ASSERT_TRUE(workbench_->store().change([&](store::Book& book) {
      shop::Settings settings;
      settings.name = "Test shop";
      book.put(settings);
      shop::Film film;
      film.id = film.name = "clear";
      film.suits = {shop::Finish::gloss_paint};
      book.put(film);
      shop::KnifeProfile profile;
      profile.id = "plotter";
      profile.settings.name = "Plotter";
      book.put(profile);
      return book.add(vehicle);
    }));
    roll_ = receive(1524, 3000, "L1");
    job_ =
        open_job(*workbench_,
                 {"Job", "", "box", {{"first", "clear"}, {"second", "clear"}, {"third", "clear"}}},
                 "tester")
            .value()
            .id;
  }

  std::string receive(double width, double length, const char* lot) {
    shop::Roll roll{"", "clear", lot, Mm{width}, Mm{length}, Mm{length}, "2031-05-04", ""};
    return receive_roll(*workbench_, roll, "ann").value().id;
  }
  std::string shelve(double length, double width, const char* lot) {
    OffcutEntry entry;
    entry.film = "clear";
    entry.lot = lot;
    entry.outline = rectangle(length, width);
    return keep_offcut(*workbench_, entry).value().id;
  }
  Result<LayoutView> lay_out_all() {
    LayoutOrder order;
    order.job = job_;
    order.from_all = true;
    order.seconds = 0.6;
    return lay_out_job(*workbench_, order, {});
  }
  void release() {
    ASSERT_TRUE(plan_job_cut(*workbench_, {job_, "", "", "plotter"}, {}));
    ASSERT_TRUE(move_job(*workbench_, {job_, shop::JobState::released, "", {}}, "tester"));
  }
  Mm remaining(const std::string& id) {
    return read_ledger(*workbench_, id).value().roll.remaining;
  }
  std::vector<PieceLot> lots() { return lots_of_job(*workbench_, job_).value(); }
  std::vector<shop::KeptLayout> layouts() { return job(*workbench_, job_).value().layouts; }
  std::vector<std::string> pieces() {
    const auto all = lots();
    std::vector<std::string> ids;
    for (const PieceLot& lot : all) ids.push_back(lot.piece);
    return ids;
  }

  std::unique_ptr<Workbench> workbench_;
  std::string roll_;
  std::string job_;
};

TEST_F(StockFlow, OffcutsAreUsedFirstWhereItPaysAndEveryPieceHasItsLot) {
  const std::string offcut = shelve(720, 470, "L0");
  shelve(300, 300, "L9");  // too small for any piece
  ASSERT_TRUE(lay_out_all());
  const auto kept_layouts = layouts();
  ASSERT_EQ(kept_layouts.size(), 2u);
  const auto all = lots();
  ASSERT_EQ(all.size(), 3u);
  EXPECT_EQ(std::count_if(all.begin(), all.end(),
                          [&](const PieceLot& lot) { return lot.roll == offcut; }),
            1);
  for (const PieceLot& lot : all) EXPECT_EQ(lot.lot, lot.roll == offcut ? "L0" : "L1");
  for (const auto& kept : kept_layouts) {
    const auto view = read_layout(*workbench_, job_, "clear", kept.roll);
    ASSERT_TRUE(view);
    EXPECT_FALSE(view->sheet.pieces.empty());
  }
}

TEST_F(StockFlow, AJobWhoseFilmDoesNotGoOnOneRollIsLaidOnTwo) {
  ASSERT_TRUE(
      change_stock(*workbench_, {roll_, shop::StockVerb::counted, Mm{500}, "", "tape", "ann"}));
  const std::string second = receive(610, 2000, "L2");
  const auto laid = lay_out_all();
  ASSERT_TRUE(laid) << laid.error().message();
  EXPECT_EQ(lots().size(), 3u);
  const auto kept_layouts = layouts();
  for (const auto& kept : kept_layouts) {
    EXPECT_LE(kept.length, kept.roll == second ? Mm{2000} : Mm{500});
  }
}

TEST_F(StockFlow, TheJobIsReadyWhenEachRollHasItsPathAndEachIsRunByItself) {
  const std::string offcut = shelve(720, 470, "L0");
  ASSERT_TRUE(lay_out_all());
  ASSERT_TRUE(plan_job_cut(*workbench_, {job_, "", offcut, "plotter"}, {}));
  EXPECT_EQ(job(*workbench_, job_)->job.state, shop::JobState::laid_out);
  release();
  const auto run = start_book_run(*workbench_, job_, "", offcut);
  ASSERT_TRUE(run) << run.error().message();
  EXPECT_EQ(run->record.roll, offcut);
  EXPECT_EQ(rests_of_run(*workbench_, run->record.id).error().code, ErrorCode::conflict);
  {
    auto kept = open_book_run(*workbench_, run->record.id);
    ASSERT_TRUE(kept);
    ASSERT_TRUE(send_run(*kept, {}));
    ASSERT_TRUE(confirm_run(*kept));
  }
  EXPECT_EQ(remaining(offcut), Mm{0});  // an offcut is cut from once
  EXPECT_EQ(remaining(roll_), Mm{3000});
  const auto ledger = read_ledger(*workbench_, offcut)->lines;
  EXPECT_EQ(shop::sum_of(ledger), Mm{0});
  EXPECT_TRUE(rests_of_run(*workbench_, run->record.id));
  EXPECT_TRUE(read_stock(*workbench_)->offcuts.empty());
}

TEST_F(StockFlow, WhatARunLeavesIsOfferedAndKept) {
  ASSERT_TRUE(lay_out_all());
  release();
  const auto run = start_book_run(*workbench_, job_, "");
  ASSERT_TRUE(run);
  {
    auto kept = open_book_run(*workbench_, run->record.id);
    ASSERT_TRUE(kept);
    ASSERT_TRUE(send_run(*kept, {}));
    ASSERT_TRUE(confirm_run(*kept));
  }
  const auto rests = rests_of_run(*workbench_, run->record.id);
  ASSERT_TRUE(rests);
  for (const Rest& rest : *rests) {
    OffcutEntry entry;
    entry.film = rest.film;
    entry.lot = rest.lot;
    entry.outline = rectangle(rest.box.width(), rest.box.height());
    entry.from = rest.roll;
    entry.run = rest.run;
    ASSERT_TRUE(keep_offcut(*workbench_, entry));
  }
  EXPECT_EQ(read_stock(*workbench_)->offcuts.size(), rests->size());
}

TEST_F(StockFlow, ARecutTakesTheBestOffcutAndBooksIt) {
  ASSERT_TRUE(lay_out_all());
  const auto before = remaining(roll_);
  shelve(1500, 900, "L8");
  const std::string best = shelve(690, 450, "L7");
  const std::string piece = pieces().front();
  const auto view = recut_piece(
      *workbench_, {job_, piece, shop::RecutReason::dirt, "a hair", "", "", true, "ben"});
  ASSERT_TRUE(view) << view.error().message();
  EXPECT_TRUE(view->offcut);
  EXPECT_EQ(view->record.stock, best);
  EXPECT_EQ(view->record.lot, "L7");
  EXPECT_EQ(view->record.used, Mm{690});
  EXPECT_EQ(remaining(best), Mm{0});
  EXPECT_EQ(remaining(roll_), before);
  EXPECT_NE(recut_plot(*workbench_, view->record.id)->find("PD"), std::string::npos);
  EXPECT_EQ(recuts_of(*workbench_, job_), std::vector{view->record});
  const auto all = lots();
  EXPECT_EQ(all.front().lot, "L7");
  EXPECT_EQ(all.front().recut, view->record.id);
  const auto told = history(*workbench_, job_)->back();
  EXPECT_EQ(told.what, "recut");
  EXPECT_EQ(told.who, "ben");
}

// A claim in year six: the piece that came back is made again, once, from film at hand.
TEST_F(StockFlow, AClaimIsAnsweredByARecutThatIsBooked) {
  ASSERT_TRUE(lay_out_all());
  release();
  PieceLaid laid;
  laid.event = "event-0001";
  laid.job = job_;
  laid.panel = "first";
  laid.source = roll_;
  const auto installed = install_piece(*workbench_, laid, "Ada");
  ASSERT_TRUE(installed) << installed.error().message();
  shop::Claim claim;
  claim.piece = installed->number;
  claim.what = "an edge lifts";
  claim.reported_by = "A. Nobody";
  claim.who = "desk";
  const auto opened = open_claim(*workbench_, claim);
  ASSERT_TRUE(opened);

  RecutOrder order;
  order.claim = opened->id;
  order.reason = shop::RecutReason::lifted;
  order.who = "ben";
  // Nobody decided yet; then somebody decided against it.
  EXPECT_EQ(recut_claim(*workbench_, order).error().code, ErrorCode::conflict);
  shop::ClaimRuling ruling{opened->id, shop::Ruling::declined, "a stone did it", false, "lead", ""};
  ASSERT_TRUE(rule_claim(*workbench_, ruling));
  EXPECT_EQ(recut_claim(*workbench_, order).error().code, ErrorCode::conflict);
  ruling = {opened->id, shop::Ruling::warranty, "the film's maker agrees", true, "lead", ""};
  ASSERT_TRUE(rule_claim(*workbench_, ruling));

  const auto before = remaining(roll_);
  const auto view = recut_claim(*workbench_, order);
  ASSERT_TRUE(view) << view.error().message();
  EXPECT_EQ(view->record.piece, installed->piece);
  EXPECT_EQ(view->record.job, job_);
  EXPECT_EQ(view->record.claim, opened->id);
  EXPECT_EQ(view->record.reason, shop::RecutReason::lifted);
  EXPECT_LT(remaining(roll_), before);
  EXPECT_EQ(recuts_of(*workbench_, job_), std::vector{view->record});
  EXPECT_EQ(claims(*workbench_)->front().recuts, std::vector{view->record.id});
  EXPECT_NE(history(*workbench_, job_)->back().detail.find("claim " + opened->id),
            std::string::npos);
  // One claim, one recut.
  EXPECT_EQ(recut_claim(*workbench_, order).error().code, ErrorCode::conflict);
  order.claim = "K-0009";
  EXPECT_EQ(recut_claim(*workbench_, order).error().code, ErrorCode::not_found);
}

TEST_F(StockFlow, ACardOffersWhatWasUsedFirstThenTheShelf) {
  ASSERT_TRUE(lay_out_all());
  const std::string used = shelve(690, 450, "L7");
  const std::string kept = shelve(600, 500, "L8");
  ASSERT_TRUE(recut_piece(
      *workbench_, {job_, pieces().front(), shop::RecutReason::dirt, "", used, "", false, "ben"}));
  const auto sources = cards(*workbench_, job_)->sources;
  ASSERT_GE(sources.size(), 3u);
  EXPECT_EQ(sources.front().id, roll_);
  EXPECT_FALSE(sources.front().offcut);
  // Gone from the shelf, and still what the piece came from.
  EXPECT_EQ(sources[1].id, used);
  EXPECT_EQ(sources[1].lot, "L7");
  EXPECT_EQ(sources.back().id, kept);
  EXPECT_TRUE(sources.back().offcut);
  EXPECT_DOUBLE_EQ(sources.back().area, 600.0 * 500.0);
}

TEST_F(StockFlow, WithoutAnOffcutARecutComesOffTheRollAndItsRestGoesToTheShelf) {
  ASSERT_TRUE(lay_out_all());
  RecutOrder order{job_, pieces().back(), shop::RecutReason::torn, "", "", "", true, "ben"};
  const auto view = recut_piece(*workbench_, order);
  ASSERT_TRUE(view) << view.error().message();
  EXPECT_FALSE(view->offcut);
  EXPECT_EQ(remaining(roll_), Mm{3000} - view->record.used);
  ASSERT_FALSE(view->kept.empty());
  const auto shelf = read_stock(*workbench_)->offcuts;
  EXPECT_EQ(shelf.front().from, roll_);
  EXPECT_EQ(shelf.front().lot, "L1");
  // The piece again: from that rest or wherever, never more than there is.
  for (int i = 0; i < 12; ++i) {
    const auto again = recut_piece(*workbench_, order);
    EXPECT_GE(remaining(roll_), Mm{0});
    EXPECT_TRUE(again || again.error().code == ErrorCode::unsupported);
  }
}

TEST_F(StockFlow, RecutsThatCannotBeAreRefusedAndBookNothing) {
  RecutOrder order;
  order.job = job_;
  order.piece = "first";
  EXPECT_EQ(recut_piece(*workbench_, order).error().code, ErrorCode::not_found);
  ASSERT_TRUE(lay_out_all());
  order.piece = "no such piece";
  EXPECT_EQ(recut_piece(*workbench_, order).error().code, ErrorCode::not_found);
  order.piece = pieces().front();
  order.job = "J-9";
  EXPECT_EQ(recut_piece(*workbench_, order).error().code, ErrorCode::not_found);
  order.job = job_;
  order.stock = shelve(300, 300, "L9");
  EXPECT_EQ(recut_piece(*workbench_, order).error().code, ErrorCode::unsupported);
  EXPECT_EQ(remaining(roll_), Mm{3000});
  EXPECT_TRUE(recuts_of(*workbench_, job_)->empty());
}

TEST_F(StockFlow, AStockIsNeverNegativeWhateverAPersonEnters) {
  const auto change = [this](shop::StockVerb verb, double mm, const char* why) {
    return change_stock(*workbench_, {roll_, verb, Mm{mm}, "", why, "ann"});
  };
  EXPECT_EQ(change(shop::StockVerb::cut, 3000.5, "").error().code, ErrorCode::conflict);
  EXPECT_EQ(change(shop::StockVerb::written_off, 100, "").error().code, ErrorCode::invalid_input);
  EXPECT_EQ(change(shop::StockVerb::received, 100, "x").error().code, ErrorCode::invalid_input);
  EXPECT_TRUE(change(shop::StockVerb::written_off, 100, "torn"));
  EXPECT_TRUE(change(shop::StockVerb::cut, 2900, ""));
  EXPECT_EQ(change(shop::StockVerb::cut, 0.5, "").error().code, ErrorCode::conflict);
  EXPECT_TRUE(change(shop::StockVerb::returned, 40, ""));
  EXPECT_EQ(remaining(roll_), Mm{40});
  EXPECT_EQ(shop::sum_of(read_ledger(*workbench_, roll_)->lines), Mm{40});
}

TEST_F(StockFlow, ARollIsCheckedByTheFactsOfItsSupply) {
  shop::Supply supply;
  supply.film = "clear";
  supply.wound_um = 250;
  supply.core_diameter = 80;
  supply.minimum = Mm{5000};
  ASSERT_TRUE(set_supply(*workbench_, supply));
  RollCheck check;
  check.roll = roll_;
  check.diameters = shop::RollDiameters{{85.76, 0.5}, {}, {}};  // 3 m by the roll formula
  const auto good = check_roll(*workbench_, check);
  ASSERT_TRUE(good) << good.error().message();
  EXPECT_TRUE(good->agrees);
  EXPECT_NEAR(good->measured.value, 3000, 250);
  check.diameters->outer = {160, 0.5};
  EXPECT_FALSE(check_roll(*workbench_, check)->agrees);
  check.diameters.reset();
  check.weight = shop::RollWeight{{3000, 10}, {}, {}};  // its weights are not known
  EXPECT_EQ(check_roll(*workbench_, check).error().code, ErrorCode::invalid_input);
  const auto outlook = read_stock(*workbench_)->outlooks;
  ASSERT_EQ(outlook.size(), 1u);
  EXPECT_TRUE(outlook.front().low);
  EXPECT_EQ(outlook.front().rolls_to_order, 1);
}

TEST_F(StockFlow, LayoutsKeepAwayFromDefects) {
  ASSERT_TRUE(mark_defects(*workbench_, roll_, {{Mm{2400}, Mm{600}, Mm{0}, Mm{1524}, "stain"}}));
  ASSERT_TRUE(lay_out_all());
  const auto view = read_layout(*workbench_, job_, "clear");
  for (const auto& piece : view->sheet.pieces) {
    EXPECT_GE(bounding_box(piece.outline).low.x, 600);
  }
}

}  // namespace
}  // namespace film::workbench
