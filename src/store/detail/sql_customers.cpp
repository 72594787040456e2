// Customers, their vehicles and which job is for whom.

#include "store/detail/sql_customers.h"

#include "base/text.h"

namespace film::store::detail {
namespace {

constexpr const char* kColumns =
    "SELECT id, name, phone, email, address, language, revision,"
    " created FROM customers WHERE ";

Result<void> changed_one(soci::statement& statement, const std::string& where) {
  statement.execute(true);
  if (statement.get_affected_rows() == 1) return {};
  return fail(ErrorCode::conflict, "someone else changed it first", where,
              "Look at it as it is now, then decide again.");
}

/// The text just past all that begin with `start`, in the order of bytes.
std::string past(std::string start) {
  start += "\xf4\x8f\xbf\xbf";  // the last code point there is
  return start;
}

}  // namespace

using soci::into;
using soci::use;

std::vector<shop::Customer> SqlCustomers::customers(const std::string& start, std::size_t most) {
  // A range of an index, not a pattern: it stays quick with ten years of customers.
  return customers_where(
      "(name >= :low AND name < :high) OR id IN (SELECT customer FROM customer_vehicles WHERE"
      " (plate >= :low AND plate < :high) OR (vin >= :low AND vin < :high))",
      start, past(start), most);
}

std::vector<shop::Customer> SqlCustomers::customers_holding(const std::string& text,
                                                            std::size_t most) {
  return customers_where("lower(name) LIKE lower(:low) ESCAPE '!' AND :high = ''", holding(text),
                         "", most);
}

std::vector<shop::Customer> SqlCustomers::customers_where(const std::string& condition,
                                                          const std::string& low,
                                                          const std::string& high,
                                                          std::size_t most) {
  shop::Customer customer;
  long long revision = 0;
  const auto limit = static_cast<long long>(most);
  soci::statement statement =
      (sql_.prepare << kColumns + condition + " ORDER BY name, id LIMIT :most", into(customer.id),
       into(customer.name), into(customer.phone), into(customer.email), into(customer.address),
       into(customer.language), into(revision), into(customer.created), use(low, "low"),
       use(high, "high"), use(limit, "most"));
  statement.execute();
  std::vector<shop::Customer> customers;
  while (statement.fetch()) {
    customer.revision = revision;
    customers.push_back(customer);
  }
  return customers;
}

std::optional<shop::Customer> SqlCustomers::customer(const std::string& id) {
  shop::Customer customer;
  long long revision = 0;
  sql_ << kColumns + std::string("id = :id"), into(customer.id), into(customer.name),
      into(customer.phone), into(customer.email), into(customer.address), into(customer.language),
      into(revision), into(customer.created), use(id);
  if (!sql_.got_data()) return std::nullopt;
  customer.revision = revision;
  return customer;
}

shop::Customer SqlCustomers::add(shop::Customer customer) {
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM customers", into(number);
  customer.id = format("K-{:04}", number);
  customer.revision = 1;
  const long long revision = 1;
  sql_ << "INSERT INTO customers (number, id, name, phone, email, address, language, revision,"
          " created) VALUES (:number, :id, :name, :phone, :email, :address, :language, :revision,"
          " :created)",
      use(number), use(customer.id), use(customer.name), use(customer.phone), use(customer.email),
      use(customer.address), use(customer.language), use(revision), use(customer.created);
  return customer;
}

Result<void> SqlCustomers::update(const shop::Customer& c) {
  const long long revision = c.revision;
  const long long before = revision - 1;
  soci::statement statement =
      (sql_.prepare << "UPDATE customers SET name = :name, phone = :phone, email = :email, address"
                       " = :address, language = :language, revision = :revision WHERE id = :id AND"
                       " revision = :before",
       use(c.name), use(c.phone), use(c.email), use(c.address), use(c.language), use(revision),
       use(c.id), use(before));
  return changed_one(statement, "customer " + c.id);
}

std::vector<shop::CustomerVehicle> SqlCustomers::vehicles_of(const std::string& customer) {
  return vehicles_where("customer = :value", customer);
}

std::vector<shop::CustomerVehicle> SqlCustomers::vehicles_holding(const std::string& text,
                                                                  std::size_t most) {
  std::string bare;
  for (const char c : text) {
    if (c != ' ' && c != '-') bare += c;
  }
  if (bare.empty()) return {};
  return vehicles_where(
      "upper(replace(replace(plate, ' ', ''), '-', '')) LIKE upper(:value) ESCAPE '!'"
      " OR upper(vin) LIKE upper(:value) ESCAPE '!'",
      holding(bare), format("plate, id LIMIT {}", most));
}

std::optional<shop::CustomerVehicle> SqlCustomers::customer_vehicle(const std::string& id) {
  auto found = vehicles_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::CustomerVehicle> SqlCustomers::vehicles_where(const std::string& condition,
                                                                const std::string& value,
                                                                const std::string& order) {
  shop::CustomerVehicle v;
  long long revision = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT id, customer, model, plate, vin, vin_reason, note, revision, created"
                       " FROM customer_vehicles WHERE " +
                           condition + " ORDER BY " + order,
       into(v.id), into(v.customer), into(v.model), into(v.plate), into(v.vin), into(v.vin_reason),
       into(v.note), into(revision), into(v.created), use(value, "value"));
  statement.execute();
  std::vector<shop::CustomerVehicle> vehicles;
  while (statement.fetch()) {
    v.revision = revision;
    vehicles.push_back(v);
  }
  return vehicles;
}

shop::CustomerVehicle SqlCustomers::add(shop::CustomerVehicle v) {
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM customer_vehicles", into(number);
  v.id = format("V-{:04}", number);
  v.revision = 1;
  const long long revision = 1;
  sql_ << "INSERT INTO customer_vehicles (number, id, customer, model, plate, vin, vin_reason,"
          " note, revision, created) VALUES (:number, :id, :customer, :model, :plate, :vin,"
          " :reason, :note, :revision, :created)",
      use(number), use(v.id), use(v.customer), use(v.model), use(v.plate), use(v.vin),
      use(v.vin_reason), use(v.note), use(revision), use(v.created);
  return v;
}

Result<void> SqlCustomers::update(const shop::CustomerVehicle& v) {
  const long long revision = v.revision;
  const long long before = revision - 1;
  soci::statement statement =
      (sql_.prepare << "UPDATE customer_vehicles SET model = :model, plate = :plate, vin = :vin,"
                       " vin_reason = :reason, note = :note, revision = :revision WHERE id = :id"
                       " AND revision = :before",
       use(v.model), use(v.plate), use(v.vin), use(v.vin_reason), use(v.note), use(revision),
       use(v.id), use(before));
  return changed_one(statement, "vehicle " + v.id);
}

std::optional<shop::JobCustomer> SqlCustomers::job_customer(const std::string& job) {
  shop::JobCustomer link;
  sql_ << "SELECT job, customer, vehicle FROM job_customers WHERE job = :job", into(link.job),
      into(link.customer), into(link.vehicle), use(job);
  if (!sql_.got_data()) return std::nullopt;
  return link;
}

void SqlCustomers::put(const shop::JobCustomer& link) {
  sql_ << "INSERT INTO job_customers (job, customer, vehicle) VALUES (:job, :customer, :vehicle)"
          " ON CONFLICT (job) DO UPDATE SET customer = excluded.customer,"
          " vehicle = excluded.vehicle",
      use(link.job), use(link.customer), use(link.vehicle);
}

std::vector<std::string> SqlCustomers::jobs_of_customer(const std::string& customer) {
  return jobs_where("l.customer = :value", customer);
}

std::vector<std::string> SqlCustomers::jobs_of_vehicle(const std::string& vehicle) {
  return jobs_where("l.vehicle = :value", vehicle);
}

std::vector<std::string> SqlCustomers::jobs_where(const std::string& condition,
                                                  const std::string& value) {
  std::string job;
  soci::statement statement =
      (sql_.prepare << "SELECT l.job FROM job_customers l JOIN jobs j ON j.id = l.job WHERE " +
                           condition + " ORDER BY j.number DESC",
       into(job), use(value));
  statement.execute();
  std::vector<std::string> jobs;
  while (statement.fetch()) jobs.push_back(job);
  return jobs;
}

}  // namespace film::store::detail
