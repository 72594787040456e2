#include "base/zone.h"

#include <algorithm>

namespace film {

std::chrono::minutes offset_at(const Zone& zone, Instant instant) {
  const auto next =
      std::upper_bound(zone.changes.begin(), zone.changes.end(), instant,
                       [](Instant t, const Zone::Change& change) { return t < change.from; });
  return next == zone.changes.begin() ? zone.offset : std::prev(next)->offset;
}

Civil civil_of(const Zone& zone, Instant instant) {
  return Civil(instant.time_since_epoch() + offset_at(zone, instant));
}

Instant instant_of(const Zone& zone, Civil civil) {
  // The stretch of one offset that holds the civil time; stretches in order, so the first one wins
  // where two do, and where none does the time lies in the gap before the stretch that follows.
  auto offset = zone.offset;
  for (const Zone::Change& change : zone.changes) {
    const Instant candidate(civil.time_since_epoch() - offset);
    if (candidate < change.from) return candidate;
    if (civil.time_since_epoch() - change.offset < change.from.time_since_epoch()) {
      return change.from;
    }
    offset = change.offset;
  }
  return Instant(civil.time_since_epoch() - offset);
}

}  // namespace film
