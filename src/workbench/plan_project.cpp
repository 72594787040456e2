#include "workbench/plan_project.h"

#include <utility>
#include <vector>

#include "base/assert.h"
#include "exchange/plan_files.h"
#include "planning/verify.h"

namespace film::workbench {

Result<planning::Plan> plan_project(std::string_view bytes, const planning::Options& options,
                                    const Context& context) {
  auto project = exchange::read_project(bytes);
  if (!project) return Failure(project.error());
  return plan_project(*project, options, context);
}

Result<planning::Plan> plan_project(const planning::Project& project,
                                    const planning::Options& options, const Context& context) {
  auto plan = planning::solve(project, options, context);
  if (!plan || !plan->exists()) return plan;
  const std::vector<planning::Violation> violations = planning::verify(project, plan->starts);
  FILM_ASSERT(violations.empty());
  return plan;
}

}  // namespace film::workbench
