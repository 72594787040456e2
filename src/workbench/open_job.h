#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "shop/job.h"
#include "workbench/workbench.h"

namespace film::workbench {

struct NewJob {
  std::string title;
  std::string customer;
  std::string vehicle;
  std::vector<shop::ScopeItem> scope;
};

/// Opens a job on the newest version of the vehicle. Errors: not_found (vehicle, panel, film),
/// invalid_input (those of shop::check; a film that does not suit a panel's finish).
Result<shop::Job> open_job(Workbench& workbench, const NewJob& order, const std::string& who);

}  // namespace film::workbench
