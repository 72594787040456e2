// Any bytes: either a project or an error that says where. A small project is planned for a few
// rounds, and the independent verifier looks at the plan.

#include "exchange/plan_files.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "planning/solve.h"
#include "planning/verify.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  using namespace film;
  const auto project =
      exchange::read_project(std::string_view(reinterpret_cast<const char*>(bytes), size));
  if (!project) {
    if (project.error().what.empty() || project.error().where.empty()) std::abort();
    return 0;
  }
  if (project->tasks.size() > 40) return 0;
  long steps = 0;
  for (const planning::Task& task : project->tasks) steps += task.duration;
  for (const planning::Lag& lag : project->lags) steps += std::abs(lag.least);
  if (steps > 2000) return 0;
  planning::Options options;
  options.iterations = 1;
  const auto plan = planning::solve(*project, options, Context());
  if (!plan) std::abort();
  if (plan->exists() && !planning::verify(*project, plan->starts).empty()) std::abort();
  return 0;
}
