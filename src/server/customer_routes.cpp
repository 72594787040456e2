// Customers, their vehicles, and which job is for whom.

#include "server/api.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/problem.h"
#include "shop/vin.h"
#include "workbench/browse.h"
#include "workbench/customers.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestText = 480;
constexpr std::size_t kLongestId = 100;
constexpr std::int64_t kMostRevisions = std::int64_t{1} << 50;

Json encode(const shop::Customer& c) {
  return {
      {"id", c.id},           {"name", c.name},         {"phone", c.phone},      {"email", c.email},
      {"address", c.address}, {"language", c.language}, {"revision", c.revision}};
}

Json encode(const shop::CustomerVehicle& v) {
  return {{"id", v.id},       {"customer", v.customer}, {"model", v.model},
          {"plate", v.plate}, {"vin", v.vin},           {"vin_reason", v.vin_reason},
          {"note", v.note},   {"revision", v.revision}};
}

Json encode(const shop::JobCustomer& link) {
  return {{"customer", link.customer}, {"vehicle", link.vehicle}};
}

/// A new record (`id` empty) has no revision yet.
std::int64_t revision_in(Fields& fields, const std::string& id) {
  return id.empty() ? 1 : fields.integer_or("revision", 1, kMostRevisions, 0);
}

Response keep_customer(workbench::Workbench& workbench, const Call& call, const std::string& id) {
  const auto body = body_of(call.request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  shop::Customer customer;
  customer.id = id;
  customer.name = fields.text("name", kLongestText);
  customer.phone = fields.text_or("phone", kLongestText, "");
  customer.email = fields.text_or("email", kLongestText, "");
  customer.address = fields.lines_or("address", kLongestText, "");
  customer.language = fields.text_or("language", kLongestId, "en");
  customer.revision = revision_in(fields, id);
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  const auto kept = workbench::keep_customer(workbench, customer);
  return kept ? json_response(encode(*kept), id.empty() ? 201 : 200) : problem(kept.error());
}

Response keep_vehicle(workbench::Workbench& workbench, const Call& call,
                      const std::string& customer, const std::string& id) {
  const auto body = body_of(call.request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  shop::CustomerVehicle vehicle;
  vehicle.id = id;
  vehicle.customer = customer;
  vehicle.model = fields.text_or("model", kLongestId, "");
  vehicle.plate = fields.text_or("plate", kLongestText, "");
  vehicle.vin = fields.text_or("vin", kLongestId, "");
  vehicle.vin_reason = fields.text_or("vin_reason", kLongestText, "");
  vehicle.note = fields.text_or("note", kLongestText, "");
  vehicle.revision = revision_in(fields, id);
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  const auto kept = workbench::keep_customer_vehicle(workbench, vehicle);
  return kept ? json_response(encode(*kept), id.empty() ? 201 : 200) : problem(kept.error());
}

Response link(workbench::Workbench& workbench, const Call& call) {
  const auto body = body_of(call.request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  shop::JobCustomer wanted;
  wanted.job = call["job"];
  wanted.customer = fields.text("customer", kLongestId);
  wanted.vehicle = fields.text_or("vehicle", kLongestId, "");
  const auto revision = fields.integer_or("revision", 1, kMostRevisions, 0);
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  const auto job = workbench::link_customer(workbench, wanted, revision, call.caller.name);
  if (!job) return problem(job.error());
  const auto view = workbench::job(workbench, job->id);
  return view ? json_response(server::encode(*view)) : problem(view.error());
}

Response vin(const std::string& text) {
  const auto read = shop::read_vin(text);
  if (!read) return problem(read.error());
  Json answer{{"vin", *read},
              {"check_digit", std::string(1, shop::vin_check_digit(*read))},
              {"north_american", shop::is_north_american(*read)}};
  const auto fits = shop::check_vin_digit(*read);
  answer["fits"] = fits.has_value();
  if (!fits) answer["problem"] = server::encode(fits.error());
  return json_response(answer);
}

}  // namespace

void Api::add_customer_routes() {
  router_.get("/api/v1/customers", {"start"}, [this](const Call& call) {
    const auto customers = workbench::customers(workbench_, call.parameter("start"));
    if (!customers) return problem(customers.error());
    Json all = Json::array();
    for (const auto& customer : *customers) all.push_back(encode(customer));
    return json_response({{"customers", std::move(all)}});
  });
  router_.post("/api/v1/customers",
               [this](const Call& call) { return keep_customer(workbench_, call, ""); });
  router_.get("/api/v1/customers/{customer}", [this](const Call& call) {
    const auto view = workbench::customer(workbench_, call["customer"]);
    if (!view) return problem(view.error());
    Json answer = encode(view->customer);
    answer["vehicles"] = Json::array();
    for (const auto& vehicle : view->vehicles) answer["vehicles"].push_back(encode(vehicle));
    answer["jobs"] = view->jobs;
    return json_response(answer);
  });
  router_.post("/api/v1/customers/{customer}", [this](const Call& call) {
    return keep_customer(workbench_, call, call["customer"]);
  });
  router_.post("/api/v1/customers/{customer}/vehicles", [this](const Call& call) {
    return keep_vehicle(workbench_, call, call["customer"], "");
  });
  router_.post("/api/v1/customer-vehicles/{vehicle}", [this](const Call& call) {
    return keep_vehicle(workbench_, call, "", call["vehicle"]);
  });
  router_.get("/api/v1/vins/{vin}", [](const Call& call) { return vin(call["vin"]); });
  router_.get("/api/v1/jobs/{job}/customer", [this](const Call& call) {
    const auto link = workbench::job_customer(workbench_, call["job"]);
    return link ? json_response(encode(*link)) : problem(link.error());
  });
  router_.post("/api/v1/jobs/{job}/customer",
               [this](const Call& call) { return link(workbench_, call); });
}

}  // namespace film::server
