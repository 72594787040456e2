#pragma once

#include <cstdint>
#include <string>

#include "base/result.h"
#include "hours/model.h"

namespace film::shop {

/// What time was spent on.
enum class Task { preparation, laying, coating, other };

/// Time that somebody spent on a job. Appended, never changed: a wrong record is struck by another.
/// What was laid is kept with the time, so that the model of hours learns without asking for the
/// vehicle again.
struct Worked {
  std::int64_t entry = 0;  ///< the book's number
  std::string job;
  Task task = Task::laying;
  std::string piece;  ///< panel or piece that was laid; empty for other tasks
  std::string who;
  std::int64_t minutes = 0;  ///< 1 to 1440
  std::string note;
  std::string at;            ///< RFC 3339, UTC
  hours::Amounts amounts{};  ///< of the piece; all zero for other tasks
  std::int64_t strikes = 0;  ///< the entry that this one takes back; 0: none

  friend bool operator==(const Worked&, const Worked&) = default;
};

/// Errors: invalid_input naming the field.
Result<void> check(const Worked& worked);

}  // namespace film::shop
