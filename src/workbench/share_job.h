#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "shop/access.h"
#include "shop/job.h"
#include "workbench/workbench.h"

namespace film::workbench {

struct NewLink {
  std::string token;  ///< told once; only its digest is kept
  shop::ShareLink link;
};

/// Makes a link with which a customer may look at the job for 1 to 365 days. Errors: not_found,
/// invalid_input.
Result<NewLink> share_job(Workbench& workbench, const std::string& job, int days,
                          const std::string& who);

Result<std::vector<shop::ShareLink>> share_links(Workbench& workbench, const std::string& job);

/// Ends a link of the job. Errors: not_found.
Result<void> revoke_link(Workbench& workbench, const std::string& job, const std::string& link);

/// The quote that became the job which the token opens; empty when there is none. Errors: as
/// shared_job.
Result<std::string> shared_quote(Workbench& workbench, const std::string& token);

/// The job that the token opens. Errors: not_found (no such link, expired, revoked: one message).
Result<shop::Job> shared_job(Workbench& workbench, const std::string& token);

}  // namespace film::workbench
