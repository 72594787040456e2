#include "server/doorkeeper.h"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "base/text.h"
#include "host/secrets.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/problem.h"
#include "workbench/browse.h"
#include "workbench/people.h"
#include "workbench/sign_in.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestName = 120;
constexpr std::size_t kLongestPassword = 400;

double seconds_up() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

Response too_many(double wait) {
  const int seconds = static_cast<int>(std::ceil(wait));
  Response response = problem(429, "too_many", "too many attempts to sign in", "sign-in",
                              format("Wait {} s, then try again.", seconds));
  response.headers.emplace_back("Retry-After", format("{}", seconds));
  return response;
}

Response signed_out() {
  return problem(401, "signed_out", "nobody is signed in", "session", "Sign in first.");
}

}  // namespace

Doorkeeper::Doorkeeper(workbench::Workbench& workbench, Place place)
    : workbench_(workbench), place_(std::move(place)) {
  const auto people = workbench::people(workbench_);
  if (people && people->empty()) first_start_token_ = host::random_token();
}

bool Doorkeeper::is_open_demo() const {
  if (!place_.loopback || !place_.public_address.empty()) return false;
  const auto settings = workbench::shop_settings(workbench_);
  return settings && settings->demo;
}

bool Doorkeeper::is_this_machine(const Request& request) const {
  return place_.public_address.empty() && (request.peer == "127.0.0.1" || request.peer == "::1");
}

std::string Doorkeeper::cookie_name() const {
  // The prefix makes browsers insist on Secure, Path=/ and this very host.
  return place_.secure() ? "__Host-filmwright" : "filmwright";
}

std::string Doorkeeper::token_of(const Request& request) const {
  const std::string start = cookie_name() + "=";
  for (const auto& [name, value] : request.headers) {
    if (name != "cookie") continue;
    std::string_view rest = value;
    while (!rest.empty()) {
      rest.remove_prefix(std::min(rest.find_first_not_of(' '), rest.size()));
      const std::string_view pair = rest.substr(0, rest.find(';'));
      if (pair.starts_with(start)) return std::string(pair.substr(start.size()));
      rest.remove_prefix(std::min(pair.size() + 1, rest.size()));
    }
  }
  return "";
}

std::string Doorkeeper::cookie(const std::string& token) const {
  return format("{}={}; Path=/; HttpOnly; SameSite=Strict; Max-Age={}{}", cookie_name(), token,
                token.empty() ? 0 : static_cast<int>(workbench::kLongestSeconds),
                place_.secure() ? "; Secure" : "");
}

std::variant<Caller, Response> Doorkeeper::admit(const Request& request,
                                                 std::string_view pattern) const {
  const Access* const access = access_of(request.method, pattern);
  if (access == nullptr) {
    return problem(403, "forbidden", "nobody may use this", pattern, "");
  }
  Caller caller;
  caller.token = token_of(request);
  std::optional<shop::Person> person;
  if (!caller.token.empty()) {
    auto found = workbench::session_person(workbench_, caller.token);
    if (!found) return problem(found.error());
    person = std::move(*found);
  }
  if (!person && is_open_demo()) {
    // Whoever is at this machine is the demo shop's lead until they choose to be someone else.
    auto people = workbench::people(workbench_);
    if (!people) return problem(people.error());
    const auto lead = std::find_if(people->begin(), people->end(), [](const shop::Person& each) {
      return each.active && each.role == shop::Role::lead;
    });
    if (lead != people->end()) person = std::move(*lead);
  }
  if (!person) {
    if (access->anyone || (access->this_machine && is_this_machine(request))) {
      return Caller{"", "", shop::Role::reader, ""};
    }
    return signed_out();
  }
  caller.person = person->id;
  caller.name = person->name;
  caller.role = person->role;
  if (access->allows(caller.role)) return caller;
  return problem(403, "forbidden",
                 format("this is not for the role '{}'", shop::name_of(caller.role)), pattern,
                 "Ask a lead to do it or to change your role.");
}

Response Doorkeeper::session(const Request& request) const {
  Json answer;
  const auto admitted = admit(request, "/api/v1/session");
  if (const auto* refusal = std::get_if<Response>(&admitted)) return *refusal;
  const Caller& caller = std::get<Caller>(admitted);
  const auto people = workbench::people(workbench_);
  if (!people) return problem(people.error());
  answer["demo"] = is_open_demo();
  answer["first_start"] = people->empty();
  for (const shop::Person& person : *people) {
    if (!caller.person.empty() && person.id == caller.person) answer["person"] = encode(person);
  }
  return json_response(answer);
}

Response Doorkeeper::sign_in(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  const std::string person = fields.text_or("person", kLongestName, "");
  const std::string name = fields.text_or("sign_in", kLongestName, "");
  const std::string password = fields.text_or("password", kLongestPassword, "");
  if (auto sound = fields.done(); !sound) return problem(sound.error());

  Result<workbench::SignedIn> signed_in = fail(ErrorCode::invalid_input, "nobody");
  if (!person.empty() && is_open_demo()) {
    signed_in = workbench::sign_in_unasked(workbench_, person);
    if (!signed_in) return problem(signed_in.error());
  } else {
    const double now = seconds_up();
    const double wait = std::max(by_name_.wait(name, now), by_peer_.wait(request.peer, now));
    if (wait > 0) return too_many(wait);
    signed_in = workbench::sign_in(workbench_, name, password);
    if (!signed_in) {
      by_name_.failed(name, now);
      by_peer_.failed(request.peer, now);
      if (signed_in.error().code != ErrorCode::invalid_input) return problem(signed_in.error());
      return problem(401, "signed_out", signed_in.error().what, "sign-in",
                     signed_in.error().remedy);
    }
    by_name_.forget(name);
  }
  Response response = json_response(Json{{"person", encode(signed_in->person)}});
  response.headers.emplace_back("Set-Cookie", cookie(signed_in->token));
  return response;
}

Response Doorkeeper::sign_out(const Request& request) const {
  if (const std::string token = token_of(request); !token.empty()) {
    if (auto done = workbench::sign_out(workbench_, token); !done) return problem(done.error());
  }
  Response response = json_response(Json::object());
  response.headers.emplace_back("Set-Cookie", cookie(""));
  return response;
}

Response Doorkeeper::make_owner(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  const std::string token = fields.text("token", kLongestName);
  shop::Settings settings;
  settings.name = fields.text("shop", kLongestName);
  settings.currency = fields.text("currency", 3);
  const std::string unit = fields.text("length_unit", 2);
  settings.length_unit = unit == "in" ? shop::LengthUnit::inch : shop::LengthUnit::mm;
  workbench::NewPerson owner;
  owner.name = fields.text("name", kLongestName);
  owner.sign_in = fields.text("sign_in", kLongestName);
  owner.password = fields.text("password", kLongestPassword);
  if (auto sound = fields.done(); !sound) return problem(sound.error());

  const double now = seconds_up();
  if (const double wait = by_peer_.wait(request.peer, now); wait > 0) return too_many(wait);
  if (first_start_token_.empty() || !host::is_same_secret(token, first_start_token_)) {
    by_peer_.failed(request.peer, now);
    return problem(403, "forbidden", "this is not the token of the first start", "token",
                   "Copy the address that the program printed when it started.");
  }
  const auto made = workbench::make_owner(workbench_, settings, owner);
  if (!made) return problem(made.error());
  const auto signed_in = workbench::sign_in(workbench_, owner.sign_in, owner.password);
  if (!signed_in) return problem(signed_in.error());
  Response response = json_response(Json{{"person", encode(signed_in->person)}}, 201);
  response.headers.emplace_back("Set-Cookie", cookie(signed_in->token));
  return response;
}

Response Doorkeeper::change_password(const Request& request, const Caller& caller) {
  const auto body = body_of(request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  const std::string old_password = fields.text("old_password", kLongestPassword);
  const std::string new_password = fields.text("new_password", kLongestPassword);
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  const double now = seconds_up();
  if (const double wait = by_name_.wait(caller.person, now); wait > 0) return too_many(wait);
  shop::Person person;
  person.id = caller.person;
  person.name = caller.name;
  person.role = caller.role;
  const auto done = workbench::change_password(workbench_, person, old_password, new_password);
  if (!done) {
    by_name_.failed(caller.person, now);
    return problem(done.error());
  }
  Response response = json_response(Json::object());
  response.headers.emplace_back("Set-Cookie", cookie(done->token));
  return response;
}

}  // namespace film::server
