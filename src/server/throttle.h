#pragma once

#include <map>
#include <mutex>
#include <string>

namespace film::server {

/// Slows down whoever guesses. The first failures of a key are free; after each further one the key
/// waits, twice as long every time, up to a quarter of an hour. Thread-safe.
class Throttle {
 public:
  explicit Throttle(int free_failures) : free_(free_failures) {}

  /// Seconds that the key must still wait; 0: it may try. `now` counts seconds upwards.
  [[nodiscard]] double wait(const std::string& key, double now) const;
  void failed(const std::string& key, double now);
  void forget(const std::string& key);

 private:
  struct Failures {
    int count = 0;
    double last = 0;
  };

  const int free_;
  mutable std::mutex mutex_;
  std::map<std::string, Failures> failures_;
};

}  // namespace film::server
