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

/// Which layouts to plan for.
struct CutOrder {
  std::string job;
  std::string film;          ///< empty: the main one
  std::string roll;          ///< or offcut; empty: each of the film's
  std::string profile;       ///< of the machine
  std::string who = "shop";  ///< for the job's history
};

/// Plans the knife path of each kept layout asked for and keeps it with its HP-GL. Answers with the
/// first. Errors: not_found (job, layout, profile), conflict (released or cancelled; something that
/// must be signed for is open), those of cutting::plan_cut, io.
Result<CutView> plan_job_cut(Workbench& workbench, const CutOrder& order, const Context& context);

/// The kept knife path on one roll or offcut (empty: the first). Errors: not_found, io.
Result<CutView> read_cut(Workbench& workbench, const std::string& job, const std::string& film,
                         const std::string& roll = "");

}  // namespace film::workbench
