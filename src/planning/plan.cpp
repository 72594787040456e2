#include "planning/plan.h"

namespace film::planning {

std::string_view name_of(Status status) {
  switch (status) {
    case Status::optimal: return "optimal";
    case Status::feasible: return "feasible";
    case Status::infeasible: return "infeasible";
    case Status::unknown: return "unknown";
  }
  return "unknown";
}

}  // namespace film::planning
