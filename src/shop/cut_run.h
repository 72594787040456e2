#pragma once

#include <cstddef>
#include <string>

#include "base/units.h"

namespace film::shop {

/// The cutting of one film of a job on one machine, from its start to its end. How it went stands
/// in its marks. A machine has at most one run that is not over, and so has a film of a job.
struct CutRun {
  std::string id;  ///< "C-0001"
  std::string job;
  std::string film;
  std::string roll;     ///< that the film is booked out of
  std::string machine;  ///< id of the knife profile
  std::string plan;     ///< content hash of the knife path
  std::string profile;  ///< content hash of the machine's profile as it was at the start
  std::size_t contours = 0;
  Mm used{0};  ///< of the roll, as booked so far
  bool over = false;
  std::string started;  ///< RFC 3339, UTC

  friend bool operator==(const CutRun&, const CutRun&) = default;
};

/// One line of a run's journal. Appended, never changed.
struct CutMark {
  std::string at;    ///< RFC 3339, UTC
  std::string text;  ///< "begun 17"; docs/formats/run.md

  friend bool operator==(const CutMark&, const CutMark&) = default;
};

}  // namespace film::shop
