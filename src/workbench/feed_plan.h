#pragma once

#include <string>

#include "workbench/plan_desk.h"

namespace film::workbench {

/// Makes a calendar feed of one person's tasks (empty: everybody's) and returns the secret of its
/// address, which is told once and not kept. Errors: not_found (the person).
Result<std::string> open_feed(Workbench& workbench, const std::string& person);

/// The feed of that secret as iCalendar. Errors: not_found, also for a wrong secret.
Result<std::string> read_feed(Workbench& workbench, const std::string& secret);

}  // namespace film::workbench
