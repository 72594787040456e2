#include "workbench/plan_history.h"

#include "store/store.h"

namespace film::workbench {

Result<std::vector<shop::PlanVersion>> plan_history(Workbench& workbench, int most) {
  return workbench.store().look([most](store::Book& book) { return book.plan_history(most); });
}

}  // namespace film::workbench
