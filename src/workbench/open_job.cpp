#include "workbench/open_job.h"

#include "base/text.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"

namespace film::workbench {

Result<shop::Job> open_job(Workbench& workbench, const NewJob& order, const std::string& who) {
  const auto vehicle = workbench.vehicle(order.vehicle);
  if (!vehicle) return Failure(vehicle.error());
  shop::Job job;
  job.title = order.title;
  job.customer = order.customer;
  job.vehicle = order.vehicle;
  job.vehicle_version = (*vehicle)->version;
  job.scope = order.scope;
  job.created = now();
  if (auto sound = shop::check(job); !sound) return Failure(sound.error());
  return workbench.store().change([&](store::Book& book) -> Result<shop::Job> {
    if (auto sound = check_scope(book, **vehicle, job.scope); !sound) return Failure(sound.error());
    shop::Job opened = book.add(job);
    book.append(opened.id, {opened.created, who, "opened",
                            format("{} panels of {}", opened.scope.size(), opened.vehicle)});
    return opened;
  });
}

}  // namespace film::workbench
