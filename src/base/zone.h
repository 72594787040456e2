#pragma once

#include <chrono>
#include <string>
#include <vector>

namespace film {

/// A point of time, the same everywhere (UTC), to the minute.
using Instant = std::chrono::sys_time<std::chrono::minutes>;
/// What the clock on the wall shows in some zone; it says no instant without a Zone.
using Civil = std::chrono::local_time<std::chrono::minutes>;

/// The wall clock of a place as a value: what is to be added to UTC, and from when. The rules come
/// from outside (host/zones.h reads the machine's copy of the IANA time zone database).
struct Zone {
  struct Change {
    Instant from;
    std::chrono::minutes offset{0};  ///< local time minus UTC from then on
    friend bool operator==(const Change&, const Change&) = default;
  };

  std::string name = "UTC";
  std::chrono::minutes offset{0};  ///< before the first change
  std::vector<Change> changes;     ///< by time, rising

  friend bool operator==(const Zone&, const Zone&) = default;
};

/// Local time minus UTC at an instant. Cost: O(log changes).
std::chrono::minutes offset_at(const Zone& zone, Instant instant);

/// What the wall clock shows.
Civil civil_of(const Zone& zone, Instant instant);

/// The instant at which the wall clock shows `civil`. A time that the clock skips (spring) means
/// the instant of the change; one that it shows twice (autumn) means the first.
Instant instant_of(const Zone& zone, Civil civil);

}  // namespace film
