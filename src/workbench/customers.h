#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/customer.h"
#include "shop/job.h"
#include "workbench/workbench.h"

namespace film::workbench {

struct CustomerView {
  shop::Customer customer;
  std::vector<shop::CustomerVehicle> vehicles;
  std::vector<std::string> jobs;  ///< newest first
};

/// At most 100, by name; those that `start` finds (store/customer_book.h) when it is not empty.
Result<std::vector<shop::Customer>> customers(Workbench& workbench, const std::string& start);
Result<CustomerView> customer(Workbench& workbench, const std::string& id);

/// Adds the record when its id is empty, else changes the one whose revision was looked at.
/// Errors: not_found, conflict (changed meanwhile), those of shop::check.
Result<shop::Customer> keep_customer(Workbench& workbench, shop::Customer customer);
Result<shop::CustomerVehicle> keep_customer_vehicle(Workbench& workbench,
                                                    shop::CustomerVehicle vehicle);

/// Who the job is for, if it is linked. Errors: io.
Result<shop::JobCustomer> job_customer(Workbench& workbench, const std::string& job);
/// Links the job; its customer's name follows. `revision` of the job is the one looked at.
/// Errors: not_found, conflict, invalid_input (another customer's vehicle).
Result<shop::Job> link_customer(Workbench& workbench, const shop::JobCustomer& link,
                                std::int64_t revision, const std::string& who);

}  // namespace film::workbench
