// Runs against a simulated slow machine whose line breaks again and again: whatever happens, every
// contour is cut once, and only what was reported as doubtful was ever touched without being whole.

#include <filesystem>

#include <gtest/gtest.h>

#include "base/rng.h"
#include "base/text.h"
#include "cutting/program.h"
#include "support/cut_bench.h"
#include "support/film_judge.h"
#include "support/slow_machine.h"
#include "workbench/run_file.h"

namespace film::workbench {
namespace {

using spool::ContourState;
using spool::RunState;
using test::SlowMachine;

std::filesystem::path fresh_folder(const std::string& name) {
  const std::filesystem::path folder = std::filesystem::path(FILM_BINARY_DIR) / ("spool_" + name);
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder);
  return folder;
}

/// Says of each doubtful contour what the film shows.
std::vector<Finding> look_at_film(const KeptRun& kept, const SlowMachine& machine,
                                  const std::vector<std::vector<test::Spot>>& asked) {
  std::vector<Finding> findings;
  const auto marks = machine.marks();
  for (const std::size_t k : kept.run.in(ContourState::doubtful)) {
    findings.push_back({k, test::look(marks, asked[k]).whole > 0});
  }
  return findings;
}

struct Trial {
  std::size_t breaks = 0;
  std::size_t doubtful = 0;  ///< reported in all
};

/// Cuts the job while the line breaks after each of the given numbers of bytes.
Trial cut_through(SlowMachine& machine, const cutting::MachineProfile& profile,
                  const std::filesystem::path& journal, std::vector<std::size_t> breaks) {
  Trial trial;
  const auto plan = cutting::plan_cut(test::small_job(), profile, {}).value();
  const auto asked = test::asked_of(cutting::emit_hpgl(plan, profile).value());
  EXPECT_EQ(asked.size(), plan.contours.size());
  EXPECT_TRUE(start_run_file(journal, plan, profile));
  std::vector<char> doubted(asked.size(), 0);
  for (std::size_t round = 0; round < breaks.size() + 2; ++round) {
    auto kept = open_run_file(journal);
    EXPECT_TRUE(kept) << kept.error().message();
    if (!kept) return trial;
    const auto marks = machine.marks();
    for (const std::size_t k : kept->run.in(ContourState::cut)) {
      EXPECT_EQ(test::look(marks, asked[k]).whole, 1u) << "contour " << k;
    }
    for (const std::size_t k : kept->run.in(ContourState::waiting)) {
      EXPECT_EQ(test::look(marks, asked[k]).whole, 0u) << "contour " << k;
    }
    EXPECT_LE(kept->run.count(ContourState::doubtful), 1u);
    for (const std::size_t k : kept->run.in(ContourState::doubtful)) doubted[k] = 1;
    trial.doubtful += kept->run.count(ContourState::doubtful);
    EXPECT_TRUE(settle_run(*kept, look_at_film(*kept, machine, asked)));
    if (round < breaks.size()) machine.break_after(breaks[round]);
    const auto sent = send_run(*kept, {});
    EXPECT_TRUE(sent) << sent.error().message();
    if (kept->run.state() == RunState::finished) break;
    EXPECT_EQ(kept->run.state(), RunState::interrupted);
    machine.wait_until_idle();
  }
  machine.wait_until_idle();
  const auto marks = machine.marks();
  for (std::size_t k = 0; k < asked.size(); ++k) {
    const test::Seen seen = test::look(marks, asked[k]);
    EXPECT_EQ(seen.whole, 1u) << "contour " << k;
    if (doubted[k] == 0) {
      EXPECT_EQ(seen.partial, 0u) << "contour " << k;
    }
  }
  auto kept = open_run_file(journal);
  EXPECT_TRUE(kept);
  if (!kept) return trial;
  EXPECT_EQ(kept->run.state(), RunState::finished);
  EXPECT_NEAR(far_end(kept->plan, kept->run, false).value,
              static_cast<double>(test::far_end(marks)) / formats::kHpglUnitsPerMm, 0.0126);
  trial.breaks = machine.breaks();
  return trial;
}

/// A place in what the machine is sent at least.
std::size_t random_byte(Rng& rng, const cutting::MachineProfile& profile) {
  const auto plan = cutting::plan_cut(test::small_job(), profile, {}).value();
  return 1 + rng.below(cutting::emit_hpgl(plan, profile)->size());
}

TEST(BrokenLines, FiftyTcpConnectionsLostAtRandomBytesCutEveryContourOnce) {
  const auto folder = fresh_folder("tcp");
  Rng rng(61);
  std::size_t breaks = 0;
  std::size_t doubtful = 0;
  for (int k = 0; k < 50; ++k) {
    SlowMachine machine({});
    const auto profile = test::answering_profile(machine.listen());
    const Trial trial =
        cut_through(machine, profile, folder / format("{}.run", k), {random_byte(rng, profile)});
    breaks += trial.breaks;
    doubtful += trial.doubtful;
    if (HasFailure()) FAIL() << "trial " << k;
  }
  EXPECT_EQ(breaks, 50u);
  EXPECT_GT(doubtful, 20u);  // the test means nothing if the line never breaks inside a contour
}

TEST(BrokenLines, FiftyTerminalsUnpluggedAtRandomBytesCutEveryContourOnce) {
  const auto folder = fresh_folder("terminal");
  Rng rng(62);
  std::size_t breaks = 0;
  for (int k = 0; k < 50; ++k) {
    SlowMachine machine({});
    auto profile = test::answering_profile(machine.plug_in(folder / "port"));
    if (k % 2 == 1) profile.coordinates = formats::HpglCoordinates::relative;
    breaks +=
        cut_through(machine, profile, folder / format("{}.run", k), {random_byte(rng, profile)})
            .breaks;
    if (HasFailure()) FAIL() << "trial " << k;
  }
  EXPECT_EQ(breaks, 50u);
}

TEST(BrokenLines, OneJobSurvivesTwentyBreaks) {
  const auto folder = fresh_folder("many");
  SlowMachine machine({});
  const auto profile = test::answering_profile(machine.listen());
  Rng rng(63);
  std::vector<std::size_t> breaks;
  for (int k = 0; k < 20; ++k) breaks.push_back(1 + rng.below(400));
  EXPECT_EQ(cut_through(machine, profile, folder / "job.run", breaks).breaks, 20u);
}

TEST(BrokenLines, AMachineAskedForItsRoomIsNeverSentMore) {
  const auto folder = fresh_folder("room");
  SlowMachine machine({.buffer = 100});
  auto profile = test::answering_profile(machine.plug_in(folder / "port"));
  profile.link.flow = cutting::Flow::asked;
  cut_through(machine, profile, folder / "job.run", {500, 900});
}

TEST(BrokenLines, APauseStopsBetweenTwoContoursAndLosesNothing) {
  const auto folder = fresh_folder("pause");
  SlowMachine machine({});
  const auto profile = test::answering_profile(machine.listen());
  const auto plan = cutting::plan_cut(test::small_job(), profile, {}).value();
  const auto asked = test::asked_of(cutting::emit_hpgl(plan, profile).value());
  auto kept = start_run_file(folder / "job.run", plan, profile);
  ASSERT_TRUE(kept);
  std::size_t pauses = 0;
  while (kept->run.state() != RunState::finished) {
    const std::size_t before = kept->run.count(ContourState::cut);
    bool pause = false;
    spool::Control control{
        [&] { return pause ? spool::Wish::pause : spool::Wish::go_on; },
        [&](const spool::Run& run) { pause = run.count(ContourState::cut) >= before + 2; }};
    const auto sent = send_run(*kept, control);
    ASSERT_TRUE(sent) << sent.error().message();
    if (kept->run.state() == RunState::paused) {
      ++pauses;
      EXPECT_EQ(kept->run.count(ContourState::doubtful), 0u);
      machine.wait_until_idle();
      EXPECT_EQ(machine.marks().size(), kept->run.count(ContourState::cut));
    }
  }
  EXPECT_GE(pauses, 5u);
  EXPECT_EQ(machine.marks(), asked);
}

}  // namespace
}  // namespace film::workbench
