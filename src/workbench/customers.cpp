#include "workbench/customers.h"

#include "base/text.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"

namespace film::workbench {
namespace {

constexpr std::size_t kMostListed = 100;

Result<shop::Customer> find_customer(store::Book& book, const std::string& id) {
  auto customer = book.customer(id);
  if (customer) return std::move(*customer);
  return fail(ErrorCode::not_found, "there is no such customer", "customer " + id,
              "Choose one of the customers.");
}

}  // namespace

Result<std::vector<shop::Customer>> customers(Workbench& workbench, const std::string& start) {
  return workbench.store().look(
      [&](store::Book& book) { return book.customers(start, kMostListed); });
}

Result<CustomerView> customer(Workbench& workbench, const std::string& id) {
  return workbench.store().look([&](store::Book& book) -> Result<CustomerView> {
    auto customer = find_customer(book, id);
    if (!customer) return Failure(customer.error());
    return CustomerView{std::move(*customer), book.vehicles_of(id), book.jobs_of_customer(id)};
  });
}

Result<shop::Customer> keep_customer(Workbench& workbench, shop::Customer customer) {
  if (auto sound = shop::check(customer); !sound) return Failure(sound.error());
  return workbench.store().change([&](store::Book& book) -> Result<shop::Customer> {
    if (customer.id.empty()) {
      customer.created = now();
      return book.add(customer);
    }
    const auto before = find_customer(book, customer.id);
    if (!before) return Failure(before.error());
    customer.created = before->created;
    ++customer.revision;
    if (auto done = book.update(customer); !done) return Failure(done.error());
    return customer;
  });
}

Result<shop::CustomerVehicle> keep_customer_vehicle(Workbench& workbench,
                                                    shop::CustomerVehicle vehicle) {
  auto sound = shop::checked(std::move(vehicle));
  if (!sound) return sound;
  return workbench.store().change([&](store::Book& book) -> Result<shop::CustomerVehicle> {
    shop::CustomerVehicle& kept = *sound;
    if (kept.id.empty()) {
      if (auto owner = find_customer(book, kept.customer); !owner) return Failure(owner.error());
      kept.created = now();
      return book.add(kept);
    }
    const auto before = book.customer_vehicle(kept.id);
    if (!before) {
      return fail(ErrorCode::not_found, "there is no such vehicle", "vehicle " + kept.id,
                  "Choose one of the customer's vehicles.");
    }
    kept.customer = before->customer;
    kept.created = before->created;
    ++kept.revision;
    if (auto done = book.update(kept); !done) return Failure(done.error());
    return kept;
  });
}

Result<shop::JobCustomer> job_customer(Workbench& workbench, const std::string& job) {
  return workbench.store().look([&](store::Book& book) -> Result<shop::JobCustomer> {
    if (auto found = find_job(book, job); !found) return Failure(found.error());
    return book.job_customer(job).value_or(shop::JobCustomer{job, "", ""});
  });
}

Result<shop::Job> link_customer(Workbench& workbench, const shop::JobCustomer& link,
                                std::int64_t revision, const std::string& who) {
  return workbench.store().change([&](store::Book& book) -> Result<shop::Job> {
    auto job = find_job(book, link.job);
    if (!job) return job;
    const auto customer = find_customer(book, link.customer);
    if (!customer) return Failure(customer.error());
    if (!link.vehicle.empty()) {
      const auto vehicle = book.customer_vehicle(link.vehicle);
      if (!vehicle || vehicle->customer != link.customer) {
        return fail(ErrorCode::invalid_input, "this vehicle is not the customer's",
                    "vehicle " + link.vehicle, "Choose one of the customer's vehicles.");
      }
    }
    job->customer = customer->name;
    job->revision = revision + 1;
    if (auto done = book.update(*job); !done) return Failure(done.error());
    book.put(link);
    book.append(link.job, shop::HistoryEntry{now(), who, "customer linked",
                                             format("{} {}", link.customer, link.vehicle)});
    return job;
  });
}

}  // namespace film::workbench
