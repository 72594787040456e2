#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/units.h"
#include "cutting/plan.h"
#include "spool/journal.h"
#include "spool/line.h"
#include "spool/send.h"

namespace film::workbench {

/// A run of a knife path on a machine with the journal that keeps it: a file (run_file.h) or the
/// shop's book (book_run.h).
/// Whoever has one for more than reading holds the lock of its machine, taken before it was read.
struct KeptRun {
  std::string name;  ///< "C-0001", or the journal's file
  cutting::CutPlan plan;
  cutting::MachineProfile profile;  ///< as it was at the start, but for its link
  spool::Run run{0};
  std::unique_ptr<spool::Journal> journal;
  std::optional<spool::MachineLock> lock;
};

/// The lock of the run's machine. Errors: conflict (it is being sent, or another run is on that
/// machine), io.
Result<spool::MachineLock> lock_for(const cutting::Link& link, const std::string& run);

/// Takes down that the program which was sending the run ended without a word, if one did.
/// Errors: io.
Result<void> mend_run(KeptRun& kept);

/// How far a run has come.
struct RunProgress {
  spool::RunState state = spool::RunState::ready;
  std::string reason;
  std::size_t contours = 0;
  std::size_t contours_cut = 0;
  std::size_t pieces = 0;
  std::size_t pieces_cut = 0;  ///< all of whose contours are cut
  double mm = 0;               ///< to be cut in all
  double mm_cut = 0;
  std::vector<std::size_t> doubtful;    ///< contours that a person must look at
  std::vector<std::string> unfinished;  ///< pieces that are not all cut
};

RunProgress progress_of(const cutting::CutPlan& plan, const spool::Run& run);

/// How far along the roll the knife has left a mark: the far end of every contour cut (or doubtful
/// too), and of the alignment stroke when there is any such contour. 0: nowhere.
Mm far_end(const cutting::CutPlan& plan, const spool::Run& run, bool doubtful_too);
/// The same when all of the plan is cut.
Mm far_end(const cutting::CutPlan& plan);

/// Sends what is left of the run to its machine, from its start or where it stopped, until it is
/// finished, paused, interrupted or, on a machine that does not say what it has cut, unconfirmed:
/// `run` says which. A machine without a link is taken as one that gets all by a file.
/// Errors: conflict (contours are doubtful; the run is over), those of Line::open (nothing was
/// sent), io (the journal cannot be written).
Result<void> send_run(KeptRun& kept, const spool::Control& control);

/// What a person found on the film for one doubtful contour.
struct Finding {
  std::size_t contour = 0;
  bool cut = false;
};

/// Takes down what a person found. Errors: conflict (it is not doubtful), io.
Result<void> settle_run(KeptRun& kept, const std::vector<Finding>& findings);

/// Takes down that everything sent has been cut. Errors: conflict (not all was sent), io.
Result<void> confirm_run(KeptRun& kept);

/// Ends the run where it is; what is unfinished stays so. Errors: invalid_input (no reason),
/// conflict (it is over), io.
Result<void> give_up_run(KeptRun& kept, const std::string& reason);

}  // namespace film::workbench
