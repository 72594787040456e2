#include <filesystem>

#include <gtest/gtest.h>

#include "host/thread_executor.h"
#include "support/hp2xx.h"
#include "workbench/browse.h"
#include "workbench/lay_out_job.h"
#include "workbench/make_pieces.h"
#include "workbench/plan_job_cut.h"
#include "workbench/run_demo.h"
#include "workbench/seed_demo.h"
#include "workbench/write_cut_file.h"

namespace film::workbench {
namespace {

/// The thread from surfaces to the cut file, on the whole invented vehicle.
TEST(DemoThread, TakesAboutAHundredPanelsToFilesThatAreAllThere) {
  const std::filesystem::path folder = FILM_BINARY_DIR "/demo_thread";
  std::filesystem::remove_all(folder);
  host::ThreadExecutor threads(2);
  const Context context({}, {}, &threads);
  const auto summary = run_demo({folder, 3, 1}, context);
  ASSERT_TRUE(summary) << summary.error().message();
  EXPECT_GE(summary->panels.size(), 90u);
  EXPECT_LE(summary->panels.size(), 110u);
  std::size_t laid = 0;
  for (const DemoFilm& film : summary->films) laid += film.pieces;
  EXPECT_EQ(laid, summary->panels.size());
  for (const std::string& file : summary->files) {
    EXPECT_GT(std::filesystem::file_size(folder / file), 100u) << file;
  }
}

// Common practice, no source: a hood a little over 60 in wide is reached by about half an inch of
// stretch, and one whose front edge curls into a lip is laid as a bulk sheet; flat doors are cut
// beforehand.
TEST(DemoThread, HoodIsReachedUnderOnePercentAndLaidAsABulkSheetForItsLip) {
  auto workbench = workbench_in_memory();
  ASSERT_TRUE(workbench);
  const auto shop = seed_demo(**workbench);
  ASSERT_TRUE(shop);
  const auto pieces = make_pieces(**workbench, shop->job, {});
  ASSERT_TRUE(pieces);
  EXPECT_TRUE(pieces->failures.empty());
  bool hood = false;
  bool door = false;
  for (const JobPiece& piece : pieces->pieces) {
    if (piece.panel == "hood") {
      hood = true;
      EXPECT_EQ(piece.method.choice, surface::Choice::bulk);
      std::string reasons;
      for (const std::string& reason : piece.method.reasons) reasons += reason + "; ";
      EXPECT_NE(reasons.find("lip"), std::string::npos) << reasons;
    }
    if (piece.panel == "door_front_left") {
      door = true;
      EXPECT_EQ(piece.method.choice, surface::Choice::precut);
    }
  }
  EXPECT_TRUE(hood);
  EXPECT_TRUE(door);
}

// hp2xx 3.4.4 (Debian) reads HP-GL apart from all our code. Tolerance: one plotter unit (0.025 mm)
// and the size of a pixel of its picture.
TEST(DemoThread, AnIndependentProgramDrawsTheCutFileAsItWasPlanned) {
  auto workbench = workbench_in_memory();
  ASSERT_TRUE(workbench);
  const auto shop = seed_demo(**workbench);
  ASSERT_TRUE(shop);
  LayoutOrder order;
  order.job = shop->job;
  order.seconds = 2;
  const auto laid = lay_out_job(**workbench, order, {});
  ASSERT_TRUE(laid) << laid.error().message();
  const auto cut = plan_job_cut(**workbench, {shop->job, "", "", shop->profile}, {});
  ASSERT_TRUE(cut) << cut.error().message();
  const auto file = write_cut_file(**workbench, shop->job, "", CutForm::plt);
  ASSERT_TRUE(file);
  const auto known = profiles(**workbench);
  ASSERT_TRUE(known);
  for (const auto& profile : *known) {
    if (profile.id != shop->profile) continue;
    const auto check = test::compare_with_hp2xx(file->bytes, cut->plan, profile.settings,
                                                FILM_BINARY_DIR "/demo_hp2xx", 508);
    ASSERT_TRUE(check.drawn) << "hp2xx could not be run";
    EXPECT_GT(check.pixels, 1000u);
    EXPECT_LE(check.stray, 0.025 + check.resolution);
    EXPECT_EQ(check.missing, 0);
    return;
  }
  FAIL() << "the demo shop has lost its plotter";
}

}  // namespace
}  // namespace film::workbench
