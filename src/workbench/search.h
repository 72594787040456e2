#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// What to look for: a customer's name, a plate, a VIN, a job's title, the start of a lot, or a
/// number: "J-0001", "K-0001", "V-0001", "Q-0001", "P-17".
struct SearchOrder {
  std::string text;  ///< may be empty when days are given
  std::string from;  ///< first day of the jobs; may be empty
  std::string to;    ///< last day; may be empty
  std::size_t most = 50;
};

enum class FoundKind { job, customer, vehicle, lot, piece, claim, quote };

struct Found {
  FoundKind kind = FoundKind::job;
  std::string id;      ///< of the record; the lot itself
  std::string job;     ///< it leads to; of a customer or vehicle the newest; may be empty
  std::string title;   ///< of the job; a customer's name; a plate, or the VIN without one
  std::string detail;  ///< customer and vehicle; panel and lot of a piece; ways to reach somebody
  std::string day;     ///< when
};

/// What fits, the surest first: a number that is just this, then vehicles, customers, lots, then
/// jobs, newest first. Letters are alike in both cases, a plate with and without its spaces.
/// Where days are asked for, only jobs are looked for.
/// Errors: invalid_input (nothing to look for, no day), io.
Result<std::vector<Found>> search(Workbench& workbench, const SearchOrder& order);

}  // namespace film::workbench
