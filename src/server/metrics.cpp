#include "server/metrics.h"

#include "base/text.h"

namespace film::server {

void Metrics::count(const std::string& route, int status, double seconds) {
  const std::lock_guard lock(mutex_);
  ++requests_[{route, status}];
  Latency& latency = latencies_[route];
  std::size_t bucket = 0;
  while (bucket < kBounds.size() && seconds > kBounds[bucket]) ++bucket;
  ++latency.buckets[bucket];
  latency.sum += seconds;
  ++latency.count;
}

std::string Metrics::text(const Gauges& gauges) const {
  std::string out;
  out += "# HELP filmwright_build_info The program that answers.\n";
  out += "# TYPE filmwright_build_info gauge\n";
  out += format("filmwright_build_info{{version=\"{}\"}} 1\n", gauges.version);
  out += "# HELP filmwright_uptime_seconds Seconds since the start.\n";
  out += "# TYPE filmwright_uptime_seconds gauge\n";
  out += format("filmwright_uptime_seconds {:.3f}\n", gauges.uptime_seconds);
  out += "# HELP filmwright_tasks_running Long tasks that run now.\n";
  out += "# TYPE filmwright_tasks_running gauge\n";
  out += format("filmwright_tasks_running {}\n", gauges.tasks_running);
  const std::lock_guard lock(mutex_);
  out += "# HELP filmwright_requests_total Requests answered.\n";
  out += "# TYPE filmwright_requests_total counter\n";
  for (const auto& [key, count] : requests_) {
    out += format("filmwright_requests_total{{route=\"{}\",status=\"{}\"}} {}\n", key.first,
                  key.second, count);
  }
  out += "# HELP filmwright_request_seconds Time to answer.\n";
  out += "# TYPE filmwright_request_seconds histogram\n";
  for (const auto& [route, latency] : latencies_) {
    std::uint64_t below = 0;
    for (std::size_t i = 0; i < kBounds.size(); ++i) {
      below += latency.buckets[i];
      out += format("filmwright_request_seconds_bucket{{route=\"{}\",le=\"{}\"}} {}\n", route,
                    kBounds[i], below);
    }
    out += format("filmwright_request_seconds_bucket{{route=\"{}\",le=\"+Inf\"}} {}\n", route,
                  latency.count);
    out += format("filmwright_request_seconds_sum{{route=\"{}\"}} {:.6f}\n", route, latency.sum);
    out += format("filmwright_request_seconds_count{{route=\"{}\"}} {}\n", route, latency.count);
  }
  return out;
}

}  // namespace film::server
