#pragma once

#include <array>
#include <atomic>
#include <cstdint>
#include <map>
#include <mutex>
#include <string>

namespace film::server {

/// Counts of what the server did, as text that metric collectors read.
/// Source of the form: Prometheus text exposition format 0.0.4.
class Metrics {
 public:
  /// One answered request; `route` is the pattern, so that ids do not multiply the series.
  void count(const std::string& route, int status, double seconds);

  struct Gauges {
    std::size_t tasks_running = 0;
    double uptime_seconds = 0;
    std::string version;
  };
  [[nodiscard]] std::string text(const Gauges& gauges) const;

 private:
  static constexpr std::array<double, 7> kBounds{0.001, 0.005, 0.025, 0.1, 0.5, 2.5, 10};

  struct Latency {
    std::array<std::uint64_t, kBounds.size() + 1> buckets{};
    double sum = 0;
    std::uint64_t count = 0;
  };

  mutable std::mutex mutex_;
  std::map<std::pair<std::string, int>, std::uint64_t> requests_;
  std::map<std::string, Latency> latencies_;
};

}  // namespace film::server
