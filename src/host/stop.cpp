#include "host/stop.h"

#include <atomic>
#include <csignal>

namespace film::host {
namespace {

std::atomic<bool> interrupt_seen{false};
static_assert(std::atomic<bool>::is_always_lock_free, "set from a signal handler");

}  // namespace

void watch_interrupts() {
  struct sigaction action {};
  action.sa_handler = [](int) { interrupt_seen.store(true); };
  sigaction(SIGINT, &action, nullptr);
  sigaction(SIGTERM, &action, nullptr);
}

bool interrupted() { return interrupt_seen.load(); }

std::function<bool()> stop_after(double seconds) {
  const Stopwatch watch;
  return [watch, seconds] { return interrupted() || (seconds >= 0 && watch.seconds() >= seconds); };
}

}  // namespace film::host
