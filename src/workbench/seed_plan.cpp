#include "workbench/seed_plan.h"

#include <string>

#include "demo/workplace.h"
#include "workbench/book_plan_job.h"

namespace film::workbench {

Result<void> seed_plan(Workbench& workbench, const DemoShop& demo) {
  if (workplace(workbench)) return {};
  auto set = set_workplace(workbench, {std::string(demo::workplace()), 1});
  if (!set) return set;
  for (const demo::Booking& booking : demo::bookings()) {
    PlanOrder order;
    order.text = booking.text;
    order.arrives = booking.arrives;
    order.promise = booking.promise;
    if (auto made = book_plan_job(workbench, order, "demo", Context()); !made) {
      return Failure(made.error());
    }
  }
  if (demo.job.empty()) return {};
  PlanOrder first;
  first.job = demo.job;
  first.arrives = demo::first_order_times().arrives;
  first.promise = demo::first_order_times().promise;
  auto made = book_plan_job(workbench, first, "demo", Context());
  return made ? Result<void>() : Failure(made.error());
}

}  // namespace film::workbench
