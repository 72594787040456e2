#pragma once

#include <chrono>
#include <functional>

namespace film::host {

/// From the first interrupt (Ctrl-C, SIGTERM) on, `interrupted` is true. Safe to call again.
void watch_interrupts();
[[nodiscard]] bool interrupted();
/// How many there were: a second one is more urgent.
[[nodiscard]] int interrupts();

/// A stop test for Context: true once `seconds` have passed since this call or the user
/// interrupted. A negative time never runs out.
std::function<bool()> stop_after(double seconds);

/// Seconds since construction, by the steady clock.
class Stopwatch {
 public:
  [[nodiscard]] double seconds() const {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
  }

 private:
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

}  // namespace film::host
