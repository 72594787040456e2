#pragma once

#include <soci/soci.h>

#include "store/customer_book.h"
#include "store/detail/sql.h"

namespace film::store::detail {

/// Customers and their vehicles, in SQL.
class SqlCustomers : public virtual CustomerBook {
 public:
  explicit SqlCustomers(Sql& sql) : sql_(sql.session) {}

  std::vector<shop::Customer> customers(const std::string& start, std::size_t most) override;
  std::vector<shop::Customer> customers_holding(const std::string& text, std::size_t most) override;
  std::optional<shop::Customer> customer(const std::string& id) override;
  shop::Customer add(shop::Customer customer) override;
  Result<void> update(const shop::Customer& customer) override;
  std::vector<shop::CustomerVehicle> vehicles_of(const std::string& customer) override;
  std::vector<shop::CustomerVehicle> vehicles_holding(const std::string& text,
                                                      std::size_t most) override;
  std::optional<shop::CustomerVehicle> customer_vehicle(const std::string& id) override;
  shop::CustomerVehicle add(shop::CustomerVehicle vehicle) override;
  Result<void> update(const shop::CustomerVehicle& vehicle) override;
  std::optional<shop::JobCustomer> job_customer(const std::string& job) override;
  void put(const shop::JobCustomer& link) override;
  std::vector<std::string> jobs_of_customer(const std::string& customer) override;
  std::vector<std::string> jobs_of_vehicle(const std::string& vehicle) override;

 private:
  std::vector<shop::Customer> customers_where(const std::string& condition, const std::string& low,
                                              const std::string& high, std::size_t most);
  std::vector<shop::CustomerVehicle> vehicles_where(const std::string& condition,
                                                    const std::string& value,
                                                    const std::string& order = "number");
  std::vector<std::string> jobs_where(const std::string& condition, const std::string& value);

  soci::session& sql_;
};

}  // namespace film::store::detail
