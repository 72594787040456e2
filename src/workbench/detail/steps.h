#pragma once

#include <string>
#include <vector>

#include "shop/installed_piece.h"
#include "shop/job.h"
#include "store/book.h"

namespace film::workbench {

/// The pieces that are on the vehicle: laid, and not replaced since.
std::vector<shop::InstalledPiece> pieces_on(const std::vector<shop::InstalledPiece>& laid);

/// What of the required steps is done, as the book knows.
shop::StepsDone steps_done(store::Book& book, const shop::Job& job);

/// Moves the job and writes the line of history, with the step that was skipped, if one was.
/// Errors: those of shop::move; conflict (the job has changed).
Result<shop::Job> record_move(store::Book& book, const shop::Job& job, shop::JobState to,
                              const std::string& reason, const std::string& who,
                              const std::string& at);

}  // namespace film::workbench
