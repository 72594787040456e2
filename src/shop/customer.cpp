#include "shop/customer.h"

#include <algorithm>
#include <cctype>

#include "base/text.h"
#include "shop/vin.h"

namespace film::shop {
namespace {

Failure refuse(std::string what, std::string field, std::string remedy) {
  return fail(ErrorCode::invalid_input, std::move(what), std::move(field), std::move(remedy));
}

/// One @ with something on both sides and no space: whether mail arrives only the post can tell.
bool is_address(const std::string& email) {
  const std::size_t at = email.find('@');
  return at != std::string::npos && at > 0 && at + 1 < email.size() &&
         email.find('@', at + 1) == std::string::npos && email.find(' ') == std::string::npos;
}

}  // namespace

Result<void> check(const Customer& customer) {
  if (customer.name.find_first_not_of(' ') == std::string::npos || customer.name.size() > 240) {
    return refuse("a customer needs a name", "name", "Give 1 to 240 characters.");
  }
  const bool dialled = std::all_of(customer.phone.begin(), customer.phone.end(), [](char c) {
    return (c >= '0' && c <= '9') || std::string_view("+-/(). x").find(c) != std::string::npos;
  });
  if (!dialled || customer.phone.size() > 40) {
    return refuse(format("'{}' is no telephone number", customer.phone), "phone",
                  "Use digits, +, -, /, dots, brackets and spaces.");
  }
  if (!customer.email.empty() && (!is_address(customer.email) || customer.email.size() > 254)) {
    return refuse(format("'{}' is no e-mail address", customer.email), "email",
                  "Write it like name@shop.example");
  }
  if (customer.address.size() > 480) {
    return refuse("the address is too long", "address", "Use at most 480 characters.");
  }
  if (customer.language != "en" && customer.language != "de") {
    return refuse(format("there are no papers in '{}'", customer.language), "language",
                  "Use en or de.");
  }
  return {};
}

Result<CustomerVehicle> checked(CustomerVehicle vehicle) {
  if (vehicle.plate.size() > 20) {
    return refuse("a plate has at most 20 characters", "plate", "Copy it from the vehicle.");
  }
  for (char& c : vehicle.plate) {
    c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  }
  if (vehicle.vin.empty()) {
    vehicle.vin_reason.clear();
    return vehicle;
  }
  auto vin = read_vin(vehicle.vin);
  if (!vin) return Failure(vin.error());
  vehicle.vin = std::move(*vin);
  if (auto fits = check_vin_digit(vehicle.vin); fits) {
    vehicle.vin_reason.clear();
  } else if (vehicle.vin_reason.find_first_not_of(' ') == std::string::npos) {
    return Failure(fits.error());
  }
  return vehicle;
}

}  // namespace film::shop
