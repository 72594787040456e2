#pragma once

#include <optional>
#include <string>

#include "base/result.h"
#include "shop/cut_run.h"
#include "shop/job.h"
#include "workbench/kept_run.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// A run of the book for reading.
struct RunView {
  shop::CutRun record;
  std::string address;  ///< of the machine; empty: by files
  cutting::CutPlan plan;
  RunProgress progress;
};

/// Begins the run that cuts one film (empty: the main one) of a released job from one roll or
/// offcut (empty: the first) on the machine that its knife path was planned for. Nothing is sent
/// yet, no film is booked yet. Errors: not_found; conflict (the job is not released; its layout
/// does not pass the independent check; the machine or the film has a run that is not over; the
/// profile has changed since the path was planned; the roll has too little left), io.
Result<RunView> start_book_run(Workbench& workbench, const std::string& job,
                               const std::string& film, const std::string& roll = "",
                               const std::string& who = "shop");

/// The run for going on with it (kept_run.h). What its journal takes down, the book takes down in
/// the same transaction: film is booked out of the roll as far as what is cut reaches, when a run
/// is over with the bare film past it (the profile's trail margin), and the job's history. An
/// offcut is gone when its run is over: what is left of it is written off, and offered to the shelf
/// (workbench/keep_offcut.h).
/// Errors: not_found, conflict (it is being sent, or another run is on its machine), io.
Result<KeptRun> open_book_run(Workbench& workbench, const std::string& run,
                              const std::string& who = "shop");

/// Errors: not_found, io. A run that was being sent by a program that has ended since reads as
/// interrupted.
Result<RunView> read_book_run(Workbench& workbench, const std::string& run);

/// The newest run of one film (empty: the main one) of a job, from one roll or offcut (empty: any),
/// if there is one. Errors: not_found (job, film), io.
Result<std::optional<RunView>> newest_run(Workbench& workbench, const std::string& job,
                                          const std::string& film, const std::string& roll = "");

/// Whether every layout of the job passes the independent check, and has a knife path made from it.
/// Errors: conflict (the first fault), io.
Result<void> check_cuttable(Workbench& workbench, const shop::Job& job);

}  // namespace film::workbench
