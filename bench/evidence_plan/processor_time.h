#pragma once

#include <algorithm>
#include <ctime>
#include <functional>
#include <vector>

#include "base/context.h"
#include "host/thread_executor.h"

namespace film::bench {

/// Seconds of processor time; other work on the machine does not count.
inline double processor_seconds(clockid_t of) {
  timespec time{};
  clock_gettime(of, &time);
  return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
}

/// Like host::Stopwatch, by the processor time of all threads of the program.
class ProcessorWatch {
 public:
  [[nodiscard]] double seconds() const {
    return processor_seconds(CLOCK_PROCESS_CPUTIME_ID) - start_;
  }

 private:
  double start_ = processor_seconds(CLOCK_PROCESS_CPUTIME_ID);
};

/// Two threads, and the time that their work would take on two cores that do nothing else: of items
/// that run side by side the one that took most processor time counts. One owner thread; `stopped`
/// may be asked from any.
class TwoCores final : public Executor {
 public:
  explicit TwoCores(double budget) : budget_(budget) {}

  void run(std::size_t count, const std::function<void(std::size_t)>& work) override {
    elapsed_ += thread_seconds() - outside_;
    std::vector<double> took(count, 0);
    threads_.run(count, [&](std::size_t i) {
      item_start_ = thread_seconds();
      work(i);
      took[i] = thread_seconds() - item_start_;
      item_start_ = -1;
    });
    if (!took.empty()) elapsed_ += *std::max_element(took.begin(), took.end());
    outside_ = thread_seconds();
  }
  [[nodiscard]] std::size_t width() const override { return threads_.width(); }

  [[nodiscard]] double seconds() const {
    return elapsed_ + thread_seconds() - (item_start_ >= 0 ? item_start_ : outside_);
  }
  [[nodiscard]] bool stopped() const { return seconds() >= budget_; }

 private:
  static double thread_seconds() { return processor_seconds(CLOCK_THREAD_CPUTIME_ID); }

  inline static thread_local double item_start_ = -1;  // of the item this thread is at
  host::ThreadExecutor threads_{2};
  const double budget_;
  double elapsed_ = 0;
  double outside_ = thread_seconds();  // where the owner's time outside of items began
};

}  // namespace film::bench
