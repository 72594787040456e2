// The program itself is killed at random moments while it sends a job of the book to a simulated
// slow machine, and started again, fifty times.

#include <chrono>
#include <filesystem>
#include <thread>

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/rng.h"
#include "support/cut_bench.h"
#include "support/film_judge.h"
#include "support/slow_machine.h"
#include "workbench/book_run.h"
#include "workbench/browse.h"
#include "workbench/write_cut_file.h"

namespace film::workbench {
namespace {

using spool::RunState;

/// Starts `filmwright spool` and kills it after so many milliseconds; true when it was killed.
bool run_and_kill(std::vector<std::string> arguments, int milliseconds) {
  arguments.insert(arguments.begin(), {"filmwright", "spool"});
  const std::string program = FILM_BINARY_DIR "/filmwright";
  const pid_t child = ::fork();
  if (child == 0) {
    std::vector<char*> argv;
    for (std::string& argument : arguments) argv.push_back(argument.data());
    argv.push_back(nullptr);
    (void)!::freopen("/dev/null", "w", stdout);
    (void)!::freopen("/dev/null", "w", stderr);
    ::execv(program.c_str(), argv.data());
    ::_exit(127);
  }
  for (int waited = 0; waited < milliseconds; ++waited) {
    int status = 0;
    if (::waitpid(child, &status, WNOHANG) == child) {
      EXPECT_TRUE(WIFEXITED(status));
      return false;
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  ::kill(child, SIGKILL);
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFSIGNALED(status);
}

/// How long the program takes to start, look up a job that is not there, and end.
int start_time(const std::string& folder) {
  const auto from = std::chrono::steady_clock::now();
  EXPECT_FALSE(run_and_kill({"start", "--data", folder, "--job", "none"}, 60'000));
  return static_cast<int>(
      std::chrono::ceil<std::chrono::milliseconds>(std::chrono::steady_clock::now() - from)
          .count());
}

std::string joined(const std::vector<std::size_t>& numbers) {
  std::string text;
  for (const std::size_t n : numbers) text += (text.empty() ? "" : ",") + std::to_string(n + 1);
  return text;
}

TEST(KilledRuns, FiftyKillsCutEveryContourOnceAndBookWhatWasCut) {
  const std::filesystem::path folder = FILM_BINARY_DIR "/killed_runs";
  std::filesystem::remove_all(folder);
  const auto workbench = open_workbench(folder).value();
  test::stock_shop(*workbench, test::answering_profile("tcp:127.0.0.1:9"));
  Rng rng(71);
  int kills = 0;
  // Before the first mark and between marks, however fast the machine is.
  const auto moments = static_cast<std::size_t>(90 + start_time(folder));
  std::size_t doubts = 0;
  Mm left{3000};
  for (int number = 0; kills < 50 && number < 12; ++number) {
    test::SlowMachine machine({.seconds_a_move = 300e-6});
    test::change_machine(*workbench, test::answering_profile(machine.listen()));
    const std::string job = test::planned_job(*workbench, test::small_job());
    const auto asked =
        test::asked_of(write_cut_file(*workbench, job, "", CutForm::plt).value().bytes);
    test::release(*workbench, job);
    std::vector<char> doubted(asked.size(), 0);
    for (;;) {
      machine.wait_until_idle();
      const auto marks = machine.marks();
      auto newest = newest_run(*workbench, job, "");
      ASSERT_TRUE(newest) << newest.error().message();
      std::vector<std::string> command{"start", "--data", folder.string(), "--job", job};
      if (*newest) {
        const RunView& view = **newest;
        if (view.progress.state == RunState::finished) break;
        ASSERT_LE(view.progress.doubtful.size(), 1u);
        command = {"resume", "--data", folder.string(), "--run", view.record.id};
        std::vector<std::size_t> whole;
        std::vector<std::size_t> spoiled;
        for (const std::size_t k : view.progress.doubtful) {
          doubted[k] = 1;
          ++doubts;
          (test::look(marks, asked[k]).whole > 0 ? whole : spoiled).push_back(k);
        }
        if (!whole.empty()) command.insert(command.end(), {"--cut", joined(whole)});
        if (!spoiled.empty()) command.insert(command.end(), {"--uncut", joined(spoiled)});
        // Nothing is booked that was not cut, and all that is known to be cut is booked.
        EXPECT_LE(view.record.used.value, static_cast<double>(test::far_end(marks)) / 40 + 0.0126);
      }
      const int patience = kills < 50 ? 1 + static_cast<int>(rng.below(moments)) : 60'000;
      if (run_and_kill(command, patience)) ++kills;
    }
    const auto marks = machine.marks();
    for (std::size_t k = 0; k < asked.size(); ++k) {
      const test::Seen seen = test::look(marks, asked[k]);
      EXPECT_EQ(seen.whole, 1u) << "contour " << k;
      if (doubted[k] == 0) {
        EXPECT_EQ(seen.partial, 0u) << "contour " << k;
      }
    }
    // The film that the knife reached, and the margin of 15 mm past it.
    left = left - Mm{static_cast<double>(test::far_end(marks)) / 40 + 15};
    EXPECT_NEAR(rolls(*workbench).value()[0].remaining.value, left.value, 0.0126 * (number + 1));
    if (HasFailure()) FAIL() << "job " << number;
  }
  EXPECT_GE(kills, 50);
  EXPECT_GT(doubts, 5u);
  EXPECT_TRUE(workbench->store().check_integrity());
}

}  // namespace
}  // namespace film::workbench
