#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/customer.h"

namespace film::store {

/// Customers and their vehicles: a part of Book (store/book.h).
class CustomerBook {
 public:
  virtual ~CustomerBook() = default;

  /// At most `most`, by name; those whose name begins with `start` when it is not empty, or that
  /// have a vehicle whose plate or VIN does.
  virtual std::vector<shop::Customer> customers(const std::string& start, std::size_t most) = 0;
  /// At most `most` by name, whose name holds `text` in either case (of ASCII).
  virtual std::vector<shop::Customer> customers_holding(const std::string& text,
                                                        std::size_t most) = 0;
  virtual std::optional<shop::Customer> customer(const std::string& id) = 0;
  virtual shop::Customer add(shop::Customer customer) = 0;  ///< gives it its id ("K-0001")
  /// `revision` is the new one. Errors: conflict (a stale revision).
  virtual Result<void> update(const shop::Customer& customer) = 0;

  virtual std::vector<shop::CustomerVehicle> vehicles_of(const std::string& customer) = 0;
  /// At most `most`, whose plate or VIN holds `text`, written in either case and with or without
  /// spaces and hyphens; by plate.
  virtual std::vector<shop::CustomerVehicle> vehicles_holding(const std::string& text,
                                                              std::size_t most) = 0;
  virtual std::optional<shop::CustomerVehicle> customer_vehicle(const std::string& id) = 0;
  virtual shop::CustomerVehicle add(shop::CustomerVehicle vehicle) = 0;   ///< id "V-0001"
  virtual Result<void> update(const shop::CustomerVehicle& vehicle) = 0;  ///< Errors: conflict

  virtual std::optional<shop::JobCustomer> job_customer(const std::string& job) = 0;
  virtual void put(const shop::JobCustomer& link) = 0;  ///< replaces the job's
  virtual std::vector<std::string> jobs_of_customer(
      const std::string& customer) = 0;  ///< newest first
  virtual std::vector<std::string> jobs_of_vehicle(
      const std::string& vehicle) = 0;  ///< newest first
};

}  // namespace film::store
