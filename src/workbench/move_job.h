#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "base/result.h"
#include "shop/job.h"
#include "workbench/workbench.h"

namespace film::workbench {

struct JobMove {
  std::string job;
  shop::JobState to = shop::JobState::released;
  std::string reason;
  std::optional<std::int64_t> revision;  ///< on which the move was decided
};

/// Moves a job. A release books the film of every layout against its roll; going back to scoped
/// forgets layouts and knife paths, while film booked stays booked.
/// Errors: not_found, invalid_input (a reason is missing), conflict (not allowed now; the job has
/// changed since `revision`; a roll has too little left; something is not signed for), io.
Result<shop::Job> move_job(Workbench& workbench, const JobMove& move, const std::string& who);

}  // namespace film::workbench
