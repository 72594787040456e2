#pragma once

#include <cstdint>
#include <string>

#include "base/result.h"

namespace film::shop {

struct Customer {
  std::string id;  ///< "K-0001"
  std::string name;
  std::string phone;  ///< what follows may be empty
  std::string email;
  std::string address;
  std::string language = "en";  ///< of papers: "en" or "de"
  std::int64_t revision = 1;
  std::string created;  ///< RFC 3339, UTC

  friend bool operator==(const Customer&, const Customer&) = default;
};

/// A vehicle that a customer brings, not a kind of vehicle.
struct CustomerVehicle {
  std::string id;  ///< "V-0001"
  std::string customer;
  std::string model;       ///< id of a vehicle model; may be empty
  std::string plate;       ///< may be empty
  std::string vin;         ///< as read_vin writes it; may be empty
  std::string vin_reason;  ///< why a VIN whose check digit does not fit is kept
  std::string note;
  std::int64_t revision = 1;
  std::string created;

  friend bool operator==(const CustomerVehicle&, const CustomerVehicle&) = default;
};

/// Who a job is for.
struct JobCustomer {
  std::string job;
  std::string customer;
  std::string vehicle;  ///< the customer's; may be empty

  friend bool operator==(const JobCustomer&, const JobCustomer&) = default;
};

/// Errors: invalid_input naming the field.
Result<void> check(const Customer& customer);

/// The vehicle with plate and VIN in the form they are kept in. Errors: invalid_input naming the
/// field; a VIN whose check digit does not fit is kept only with a reason.
Result<CustomerVehicle> checked(CustomerVehicle vehicle);

}  // namespace film::shop
