// Budgets in processor time, so that a measurement on a busy machine means what it says.
#pragma once

#include <ctime>
#include <functional>

#include "host/stop.h"

namespace film::bench {

/// Seconds of processor time that all threads of this program have used since construction,
/// divided by `threads`: what a quiet machine with that many free cores would take, if each
/// thread were at work all the time. A thread that waits for another one does not count.
class ProcessorWatch {
 public:
  explicit ProcessorWatch(std::size_t threads) : threads_(static_cast<double>(threads)) {}
  [[nodiscard]] double seconds() const { return (now() - start_) / threads_; }

 private:
  static double now() {
    timespec t{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
  }
  double threads_;
  double start_ = now();
};

/// A stop test for Context: true once `watch` has gone on for `seconds` or the user interrupted.
inline std::function<bool()> stop_after(const ProcessorWatch& watch, double seconds) {
  return [watch, seconds] { return host::interrupted() || watch.seconds() >= seconds; };
}

}  // namespace film::bench
