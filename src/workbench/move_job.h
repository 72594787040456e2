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

/// Moves a job. It is released only when every layout passes the independent check, has its knife
/// path and fits on what its roll has left; film is booked when it is cut (book_run.h). Going back
/// to scoped forgets layouts and knife paths, while film booked stays booked. A step that is
/// skipped (shop::skipped_step) stands in the history with its reason. Errors: not_found,
/// invalid_input (a reason is missing), conflict (not allowed now; the job has changed since
/// `revision`; a layout fails; a roll has too little left; something is not signed for; it is being
/// cut), io.
Result<shop::Job> move_job(Workbench& workbench, const JobMove& move, const std::string& who);

}  // namespace film::workbench
