// Many tablets at one served shop.

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <fstream>
#include <mutex>
#include <thread>

#include <unistd.h>

#include "base/rng.h"
#include "base/text.h"
#include "evidence_shop_book/parts.h"
#include "evidence_shop_book/served.h"
#include "figure.h"

namespace film::bench {
namespace {

using Clock = std::chrono::steady_clock;

double megabytes_of(pid_t process) {
  std::ifstream file(format("/proc/{}/statm", process));
  double pages = 0;
  double resident = 0;
  file >> pages >> resident;
  return resident * static_cast<double>(sysconf(_SC_PAGESIZE)) / 1e6;
}

}  // namespace

void tablets(int count, double seconds) {
  const Scratch scratch;
  const Served served(scratch.folder(), true);
  if (served.port() == 0) return;
  std::this_thread::sleep_for(std::chrono::seconds(15));  // it studies the newest job at first

  std::mutex mutex;
  std::vector<double> times;
  std::atomic<int> errors{0};
  const auto end = Clock::now() + std::chrono::duration<double>(seconds);
  std::vector<std::thread> threads;
  for (int t = 0; t < count; ++t) {
    threads.emplace_back([&, t] {
      Rng rng(static_cast<std::uint64_t>(t) + 1);
      Tablet tablet(served.port());
      const std::array<std::string, 7> pages{
          "/api/v1/session",          "/api/v1/jobs",
          "/api/v1/jobs/J-0001",      "/api/v1/jobs/J-0001/history",
          "/api/v1/customers",        "/api/v1/rolls",
          "/api/v1/jobs/J-0001/glass"};
      std::vector<double> own;
      while (Clock::now() < end) {
        std::this_thread::sleep_for(std::chrono::milliseconds(250 + rng.below(500)));
        const bool writes = rng.below(10) == 0;
        const auto start = Clock::now();
        const int status =
            writes ? tablet.ask("POST", "/api/v1/customers",
                                format(R"({{"name": "Customer {} {}"}})", t, own.size()))
                   : tablet.ask("GET", pages[rng.below(pages.size())], "");
        own.push_back(std::chrono::duration<double, std::milli>(Clock::now() - start).count());
        if (status != (writes ? 201 : 200)) ++errors;
      }
      const std::lock_guard lock(mutex);
      times.insert(times.end(), own.begin(), own.end());
    });
  }
  std::this_thread::sleep_for(std::chrono::duration<double>(seconds / 5));
  const double early = megabytes_of(served.process());
  for (auto& thread : threads) thread.join();
  const double late = megabytes_of(served.process());

  std::sort(times.begin(), times.end());
  const std::string name = format("{} tablets for {:.0f} s on loopback", count, seconds);
  const double p99 = times.empty() ? 1e9 : times[times.size() * 99 / 100];
  say(name + ": errors", format("{} in {} requests", errors.load(), times.size()), "0",
      "a request each half second; one in ten writes", errors == 0 && !times.empty());
  say(name + ": p99", format("{:.1f} ms", p99), "< 100 ms", "", p99 < 100);
  say(name + ": memory of the server after a fifth of the time and at the end",
      format("{:.0f} MB, {:.0f} MB", early, late), "at most 10 % more", "resident set",
      late < 1.1 * early);
}

}  // namespace film::bench
