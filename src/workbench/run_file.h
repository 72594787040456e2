#pragma once

#include <filesystem>

#include "base/result.h"
#include "cutting/plan.h"
#include "cutting/profile.h"
#include "workbench/kept_run.h"

namespace film::workbench {

/// Begins a run whose journal is a new file (docs/formats/run.md): it holds the knife path and the
/// profile, so that nothing else is needed to go on. Nothing is sent yet.
/// Errors: conflict (the file is there; another run is on the machine), io, and those of emit_hpgl.
Result<KeptRun> start_run_file(const std::filesystem::path& journal, const cutting::CutPlan& plan,
                               const cutting::MachineProfile& profile);

/// A run as its journal has it. Errors: not_found, invalid_input (no journal of ours, or damaged),
/// conflict (it is being sent), io.
Result<KeptRun> open_run_file(const std::filesystem::path& journal);

}  // namespace film::workbench
