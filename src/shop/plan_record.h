#pragma once

#include <cstdint>
#include <string>

namespace film::shop {

/// Who and what there is to work with: people with skills and shifts, bays, holidays, the shop's
/// way of working. The text is the first part of a shop file (docs/formats/plan.md).
struct Workplace {
  std::string text;
  std::int64_t revision = 1;  ///< counts every change; a stale writer is refused

  friend bool operator==(const Workplace&, const Workplace&) = default;
};

/// The shop's plan as it was kept once: jobs with their tasks, what has started, when and by whom
/// the rest is done. Appended, never changed.
struct PlanVersion {
  std::int64_t number = 1;
  std::string made;  ///< RFC 3339, UTC
  std::string who;
  std::string what;  ///< why it was made: "J-0002 booked"
  std::string text;  ///< {"jobs": [...]} of docs/formats/plan.md

  friend bool operator==(const PlanVersion&, const PlanVersion&) = default;
};

/// A calendar feed that somebody subscribed to. The secret itself is not kept.
struct PlanFeed {
  std::string secret_hash;  ///< content hash of the secret in its address
  std::string person;       ///< whose tasks; empty: everybody's
  std::string made;         ///< RFC 3339, UTC

  friend bool operator==(const PlanFeed&, const PlanFeed&) = default;
};

}  // namespace film::shop
