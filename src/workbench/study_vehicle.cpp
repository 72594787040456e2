#include "workbench/study_vehicle.h"

#include <mutex>

#include "workbench/detail/study.h"

namespace film::workbench {
namespace {

std::vector<std::string> suited(const StudyTerms& terms) {
  std::vector<std::string> panels;
  for (const auto& panel : terms.vehicle->panels) {
    if (shop::suits(terms.film, panel)) panels.push_back(panel.id);
  }
  return panels;
}

}  // namespace

Result<std::vector<std::string>> panels_for(Workbench& workbench, const std::string& vehicle,
                                            const std::string& film) {
  const auto terms = study_terms(workbench, vehicle, 0, film);
  if (!terms) return Failure(terms.error());
  return suited(*terms);
}

Result<void> study_vehicle(Workbench& workbench, const std::string& vehicle,
                           const std::string& film, const StudySink& sink, const Context& context) {
  const auto terms = study_terms(workbench, vehicle, 0, film);
  if (!terms) return Failure(terms.error());
  const std::vector<std::string> panels = suited(*terms);
  std::mutex mutex;
  const Context alone([&context] { return context.stopped(); });
  context.executor().run(panels.size(), [&](std::size_t i) {
    if (context.stopped()) return;
    const auto made = study(workbench, *terms, panels[i], alone);
    const std::lock_guard lock(mutex);
    if (made || made.error().code != ErrorCode::cancelled) sink(panels[i], made);
  });
  if (context.stopped()) {
    return fail(ErrorCode::cancelled, "stopped before all panels were studied",
                "vehicle " + vehicle, "");
  }
  return {};
}

}  // namespace film::workbench
