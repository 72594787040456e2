#include "host/thread_executor.h"

#include <atomic>
#include <vector>

#include <gtest/gtest.h>

namespace film::host {
namespace {

TEST(ThreadExecutor, RunsEveryItemOnce) {
  ThreadExecutor executor(3);
  for (int round = 0; round < 200; ++round) {
    std::vector<std::atomic<int>> runs(17);
    executor.run(runs.size(), [&runs](std::size_t i) { ++runs[i]; });
    for (const auto& count : runs) EXPECT_EQ(count.load(), 1);
  }
}

TEST(ThreadExecutor, WithNothingToDoReturns) {
  ThreadExecutor executor(2);
  executor.run(0, [](std::size_t) { FAIL(); });
  EXPECT_EQ(executor.width(), 2u);
}

}  // namespace
}  // namespace film::host
