#pragma once

#include <chrono>
#include <mutex>

#include "base/context.h"
#include "base/result.h"

namespace film::cli {

/// Prints the error as one line on stderr and returns the exit code for it.
int report(const Error& error);

/// A progress bar on stderr, drawn only when stderr is a terminal; removes itself at the end.
/// Thread-safe: kernels report from any thread.
class ProgressBar {
 public:
  ProgressBar();
  ~ProgressBar();
  ProgressBar(const ProgressBar&) = delete;
  ProgressBar& operator=(const ProgressBar&) = delete;

  /// For Context; must not outlive the bar.
  [[nodiscard]] Context::ProgressSink sink();

 private:
  void draw(const Progress& progress);

  std::mutex mutex_;
  const bool on_terminal_;
  bool drawn_ = false;
  std::chrono::steady_clock::time_point next_draw_{};
};

}  // namespace film::cli
