#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/zone.h"
#include "planning/shop_model.h"

namespace film::exchange {

/// One entry of a calendar.
struct FeedEvent {
  std::string uid;  ///< the same for the same task, so that a calendar program moves its entry
  Instant from;
  Instant until;
  std::string summary;
  std::string place;    ///< may be empty
  std::string details;  ///< may be empty

  friend bool operator==(const FeedEvent&, const FeedEvent&) = default;
};

/// The planned tasks with hands, of one person or of all, in order of time.
std::vector<FeedEvent> events_of(const planning::Shop& shop, const std::vector<planning::Job>& jobs,
                                 const planning::ShopPlan& plan, std::optional<std::size_t> person);

/// A calendar feed as ordinary calendar programs read it: times in UTC, lines folded at 75 bytes
/// (never inside a character), text escaped. `stamped`: when the plan was made; `sequence`: its
/// number, so that a calendar program takes the newer of two.
/// Source: RFC 5545, B. Desruisseaux (ed.), iCalendar, 2009.
std::string write_feed(const std::string& name, const std::vector<FeedEvent>& events,
                       Instant stamped, std::int64_t sequence = 0);

}  // namespace film::exchange
