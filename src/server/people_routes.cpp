// Signing in, people, customers' links, the audit trail.

#include <algorithm>

#include "base/text.h"
#include "server/api.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/problem.h"
#include "shop/names.h"
#include "workbench/browse.h"
#include "workbench/people.h"
#include "workbench/share_job.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestName = 120;
constexpr std::size_t kLongestPassword = 400;
constexpr std::size_t kMostLines = 500;

/// The role of that name; a fault of the field when there is none.
shop::Role role_in(Fields& fields) {
  const auto role = shop::role_of(fields.text("role", kLongestName));
  if (!role) {
    fields.refuse("role", "there is no such role", "Use lead, cutter, installer, desk or reader.");
  }
  return role.value_or(shop::Role::reader);
}

Result<workbench::NewPerson> read_person(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  workbench::NewPerson person;
  person.name = fields.text("name", kLongestName);
  person.sign_in = fields.text("sign_in", kLongestName);
  person.role = role_in(fields);
  person.password = fields.text_or("password", kLongestPassword, "");
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return person;
}

Result<workbench::PersonChange> read_change(const Request& request, const std::string& id) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  workbench::PersonChange change;
  change.id = id;
  change.revision = fields.integer_or("revision", 1, std::int64_t{1} << 50, 0);
  change.name = fields.text("name", kLongestName);
  change.sign_in = fields.text("sign_in", kLongestName);
  change.role = role_in(fields);
  change.active = fields.truth_or("active", true);
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return change;
}

Response set_password(workbench::Workbench& workbench, const Call& call) {
  const auto body = body_of(call.request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  const std::string password = fields.text("password", kLongestPassword);
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  const auto done = workbench::set_password(workbench, call["person"], password);
  return done ? json_response(Json::object()) : problem(done.error());
}

Json encode(const shop::ShareLink& link) {
  return {{"id", link.id},
          {"made_by", link.made_by},
          {"created", link.created},
          {"expires", link.expires},
          {"revoked", link.revoked}};
}

Response share(workbench::Workbench& workbench, const Call& call) {
  const auto body = body_of(call.request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  const auto days = fields.integer_or("days", 1, 365, 30);
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  const auto made =
      workbench::share_job(workbench, call["job"], static_cast<int>(days), call.caller.name);
  if (!made) return problem(made.error());
  Json answer = encode(made->link);
  answer["path"] = "/shared/" + made->token;
  return json_response(answer, 201);
}

/// What a customer sees: no cost, no margin, no people, no other job.
Response shared(workbench::Workbench& workbench, const std::string& token) {
  const auto job = workbench::shared_job(workbench, token);
  if (!job) return problem(job.error());
  const auto vehicle = workbench.vehicle(job->vehicle, job->vehicle_version);
  const auto settings = workbench::shop_settings(workbench);
  const auto films = workbench::films(workbench);
  if (!vehicle) return problem(vehicle.error());
  if (!settings) return problem(settings.error());
  if (!films) return problem(films.error());
  const auto quote = workbench::shared_quote(workbench, token);
  if (!quote) return problem(quote.error());
  Json covered = Json::array();
  for (const shop::ScopeItem& item : job->scope) {
    const shop::Panel* panel = shop::find_panel(**vehicle, item.panel);
    const auto film = std::find_if(films->begin(), films->end(),
                                   [&](const shop::Film& each) { return each.id == item.film; });
    covered.push_back({{"panel", panel == nullptr ? item.panel : panel->name},
                       {"film", film == films->end() ? item.film : film->name}});
  }
  return json_response({{"shop", settings->name},
                        {"title", job->title},
                        {"vehicle", (*vehicle)->name},
                        {"state", shop::name_of(job->state)},
                        {"covered", std::move(covered)},
                        {"quote", *quote}});
}

}  // namespace

void Api::add_people_routes() {
  router_.get("/api/v1/session", [this](const Call& call) { return door_.session(call.request); });
  router_.post("/api/v1/session", [this](const Call& call) { return door_.sign_in(call.request); });
  router_.add("DELETE", "/api/v1/session", {},
              [this](const Call& call) { return door_.sign_out(call.request); });
  router_.post("/api/v1/session/password", [this](const Call& call) {
    return door_.change_password(call.request, call.caller);
  });
  router_.post("/api/v1/first-start",
               [this](const Call& call) { return door_.make_owner(call.request); });

  router_.get("/api/v1/people", [this](const Call&) {
    const auto people = workbench::people(workbench_);
    if (!people) return problem(people.error());
    Json all = Json::array();
    for (const auto& person : *people) all.push_back(server::encode(person));
    return json_response({{"people", std::move(all)}});
  });
  router_.post("/api/v1/people", [this](const Call& call) {
    const auto order = read_person(call.request);
    if (!order) return problem(order.error());
    const auto person = workbench::add_person(workbench_, *order);
    return person ? json_response(server::encode(*person), 201) : problem(person.error());
  });
  router_.post("/api/v1/people/{person}", [this](const Call& call) {
    const auto change = read_change(call.request, call["person"]);
    if (!change) return problem(change.error());
    const auto person = workbench::change_person(workbench_, *change);
    return person ? json_response(server::encode(*person)) : problem(person.error());
  });
  router_.post("/api/v1/people/{person}/password",
               [this](const Call& call) { return set_password(workbench_, call); });

  router_.get("/api/v1/audit", {"record"}, [this](const Call& call) {
    const auto lines = workbench::audit(workbench_, call.parameter("record"), kMostLines);
    if (!lines) return problem(lines.error());
    Json all = Json::array();
    for (const auto& line : *lines) {
      all.push_back({{"at", line.at},
                     {"who", line.who},
                     {"record", line.record},
                     {"what", line.what},
                     {"detail", line.detail},
                     {"revision_before", line.revision_before},
                     {"revision_after", line.revision_after}});
    }
    return json_response({{"lines", std::move(all)}});
  });

  router_.get("/api/v1/jobs/{job}/links", [this](const Call& call) {
    const auto links = workbench::share_links(workbench_, call["job"]);
    if (!links) return problem(links.error());
    Json all = Json::array();
    for (const auto& link : *links) all.push_back(encode(link));
    return json_response({{"links", std::move(all)}});
  });
  router_.post("/api/v1/jobs/{job}/links",
               [this](const Call& call) { return share(workbench_, call); });
  router_.add("DELETE", "/api/v1/jobs/{job}/links/{link}", {}, [this](const Call& call) {
    const auto done = workbench::revoke_link(workbench_, call["job"], call["link"]);
    return done ? json_response(Json::object()) : problem(done.error());
  });
  router_.get("/api/v1/shared/{token}",
              [this](const Call& call) { return shared(workbench_, call["token"]); });
}

}  // namespace film::server
