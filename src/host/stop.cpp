#include "host/stop.h"

#include <atomic>
#include <csignal>

namespace film::host {
namespace {

std::atomic<int> seen{0};
static_assert(std::atomic<int>::is_always_lock_free, "set from a signal handler");

}  // namespace

void watch_interrupts() {
  struct sigaction action {};
  action.sa_handler = [](int) { seen.fetch_add(1); };
  sigaction(SIGINT, &action, nullptr);
  sigaction(SIGTERM, &action, nullptr);
}

bool interrupted() { return seen.load() > 0; }

int interrupts() { return seen.load(); }

std::function<bool()> stop_after(double seconds) {
  const Stopwatch watch;
  return [watch, seconds] { return interrupted() || (seconds >= 0 && watch.seconds() >= seconds); };
}

}  // namespace film::host
