#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// What to look for: a customer's name, a job's title or number, the start of a lot, "P-17".
struct SearchOrder {
  std::string text;  ///< may be empty when days are given
  std::string from;  ///< first day of the jobs; may be empty
  std::string to;    ///< last day; may be empty
  std::size_t most = 50;
};

enum class FoundKind { job, lot, piece, claim };

struct Found {
  FoundKind kind = FoundKind::job;
  std::string id;      ///< of the job, the lot, "P-17", "K-0001"
  std::string job;     ///< of the vehicle it leads to; empty for a lot
  std::string title;   ///< of the job
  std::string detail;  ///< customer and vehicle; panel and lot of a piece
  std::string day;     ///< when
};

/// What fits, the surest first: a number that is just this, then lots, then jobs, newest first.
/// Errors: invalid_input (nothing to look for, no day), io.
Result<std::vector<Found>> search(Workbench& workbench, const SearchOrder& order);

}  // namespace film::workbench
