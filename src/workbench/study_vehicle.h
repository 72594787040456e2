#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "workbench/study_panel.h"

namespace film::workbench {

/// Ids of the vehicle's panels that the film may go on, in the vehicle's order.
/// Errors: not_found (vehicle, film), io.
Result<std::vector<std::string>> panels_for(Workbench& workbench, const std::string& vehicle,
                                            const std::string& film);

/// Hears of each study as it is made, one at a time, from any thread of the executor.
using StudySink =
    std::function<void(const std::string& panel, const Result<std::shared_ptr<const Study>>&)>;

/// Studies all `panels_for` the film, in parallel over context.executor(). A panel that fails is
/// told like the others. Errors: not_found, io, cancelled.
Result<void> study_vehicle(Workbench& workbench, const std::string& vehicle,
                           const std::string& film, const StudySink& sink, const Context& context);

}  // namespace film::workbench
