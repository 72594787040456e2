#pragma once

#include <string>

#include "base/context.h"
#include "base/result.h"
#include "cutting/plan.h"
#include "shop/kept_layout.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// A kept knife path with the layout's size.
struct CutView {
  shop::KeptCut kept;
  Mm width;
  Mm length;
  cutting::CutPlan plan;
};

/// Plans the knife path of the kept layout of one film (empty: the main one) and keeps it with its
/// HP-GL; `who` is for the job's history. Errors: not_found (job, layout, profile), conflict
/// (released or cancelled; something that must be signed for is open), those of cutting::plan_cut,
/// io.
Result<CutView> plan_job_cut(Workbench& workbench, const std::string& job, const std::string& film,
                             const std::string& profile, const Context& context,
                             const std::string& who = "shop");

/// The kept knife path. Errors: not_found, io.
Result<CutView> read_cut(Workbench& workbench, const std::string& job, const std::string& film);

}  // namespace film::workbench
