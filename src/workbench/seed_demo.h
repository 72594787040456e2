#pragma once

#include <string>

#include "base/context.h"
#include "base/result.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// Ids in the demo shop that a first look begins with.
struct DemoShop {
  std::string vehicle;
  std::string job;      ///< the whole body in clear film, and what else suits glass and lamps
  std::string profile;  ///< of the plotter
};

/// Fills an empty book with the invented demo shop: settings, films, rolls, plotter, the demo
/// vehicle and one job. A book that holds it already is left as it is; errors with conflict when
/// it holds another shop.
Result<DemoShop> seed_demo(Workbench& workbench);

}  // namespace film::workbench
