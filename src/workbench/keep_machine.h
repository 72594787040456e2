#pragma once

#include <string>

#include "base/result.h"
#include "cutting/profile.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// Keeps a machine's profile in the book under an id, in place of the one that was there.
/// Errors: invalid_input (an id that is no word of letters, digits, "-" and "_"; a profile that
/// make_profile refuses), conflict (a run on the machine is not over and more than its link would
/// change), io.
Result<void> keep_machine(Workbench& workbench, const std::string& id,
                          const cutting::MachineProfile& profile);

}  // namespace film::workbench
