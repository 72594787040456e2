#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// A paper that can be made of a job.
struct PaperLine {
  std::string id;     ///< "work-order"
  std::string title;  ///< for people
};

/// Papers that can be made of the job as it stands. Errors: not_found, io.
Result<std::vector<PaperLine>> papers(Workbench& workbench, const std::string& job);

/// One of them as PDF. Errors: not_found (job or paper), io.
Result<std::string> write_paper(Workbench& workbench, const std::string& job,
                                const std::string& paper);

}  // namespace film::workbench
