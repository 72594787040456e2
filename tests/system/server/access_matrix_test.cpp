// Every route of the API for every role, with and without a session, on a real book.

#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include <gtest/gtest.h>

#include "server/access.h"
#include "server/api.h"
#include "store/store.h"
#include "workbench/people.h"
#include "workbench/sign_in.h"

namespace film::server {
namespace {

constexpr const char* kPassword = "a lantern under nine hats";

class AccessMatrix : public testing::Test {
 protected:
  AccessMatrix() : workbench_(std::move(*workbench::workbench_in_memory())) {
    shop::Settings settings;
    settings.name = "Example shop";
    workbench::NewPerson owner{"The lead", "lead", shop::Role::lead, kPassword};
    EXPECT_TRUE(workbench::make_owner(*workbench_, settings, owner));
    for (const shop::Role role : shop::kRoles) {
      const std::string name(shop::name_of(role));
      if (role != shop::Role::lead) {
        EXPECT_TRUE(workbench::add_person(*workbench_, {"The " + name, name, role, ""}));
      }
    }
    const auto people = workbench::people(*workbench_).value();
    for (const shop::Person& person : people) {
      tokens_[person.role] = workbench::sign_in_unasked(*workbench_, person.id).value().token;
    }
    api_ = std::make_unique<Api>(*workbench_, std::vector<EmbeddedFile>{}, Api::Options{});
  }

  /// The status of a request that is sound but for its empty body and made-up names.
  int ask(const std::string& method, const std::string& pattern, const std::string& cookie,
          const std::string& peer = "192.0.2.7") {
    Request request;
    request.method = method;
    request.target = std::regex_replace(pattern, std::regex(R"(\{\w+\})"), "none");
    request.headers = {{"host", "127.0.0.1:8750"},
                       {"origin", "http://127.0.0.1:8750"},
                       {"content-type", "application/json"}};
    if (!cookie.empty()) request.headers.emplace_back("cookie", cookie);
    if (method != "GET") request.body = "{}";
    request.peer = peer;
    return api_->answer(request).status;
  }

  std::unique_ptr<workbench::Workbench> workbench_;
  std::map<shop::Role, std::string> tokens_;
  std::unique_ptr<Api> api_;
};

TEST_F(AccessMatrix, EveryRouteIsInTheTableAndTheOtherWayRound) {
  std::set<std::pair<std::string, std::string>> table;
  for (const AccessLine& line : access_table()) {
    EXPECT_TRUE(table.emplace(line.method, line.pattern).second) << line.pattern << " twice";
    EXPECT_TRUE(line.access.anyone || line.access.allows(shop::Role::lead)) << line.pattern;
  }
  const auto routes = api_->routes();
  EXPECT_EQ(table, (std::set<std::pair<std::string, std::string>>(routes.begin(), routes.end())));
}

TEST_F(AccessMatrix, EveryRoleIsAllowedWhatTheTableSaysAndNothingElse) {
  std::size_t allowed = 0;
  std::size_t refused = 0;
  for (const AccessLine& line : access_table()) {
    const std::string method(line.method);
    const std::string pattern(line.pattern);
    // It ends the session that asks; SigningOut... looks at it.
    if (method == "DELETE" && pattern == "/api/v1/session") continue;
    // Refuses by the token in its body.
    if (pattern == "/api/v1/first-start") continue;
    for (const shop::Role role : shop::kRoles) {
      const int status = ask(method, pattern, "filmwright=" + tokens_[role]);
      const std::string what = method + " " + pattern + " as " + std::string(shop::name_of(role));
      if (pattern == "/api/v1/session" && method == "POST") {
        EXPECT_EQ(status, 401) << what;  // an empty name signs nobody in
      } else if (line.access.allows(role)) {
        EXPECT_TRUE(status != 401 && status != 403) << what << " is refused: " << status;
        ++allowed;
      } else {
        EXPECT_EQ(status, 403) << what;
        ++refused;
      }
    }
  }
  EXPECT_GT(allowed, 150u);
  EXPECT_GT(refused, 60u);
}

TEST_F(AccessMatrix, WithoutASessionOnlyWhatIsForAnyoneAnswers) {
  for (const AccessLine& line : access_table()) {
    const std::string method(line.method);
    const std::string pattern(line.pattern);
    if (line.access.anyone) continue;
    for (const char* cookie : {"", "filmwright=", "filmwright=guessed", "other=1"}) {
      EXPECT_EQ(ask(method, pattern, cookie), 401) << method << " " << pattern << " " << cookie;
    }
  }
}

TEST_F(AccessMatrix, ARouteThatTheTableDoesNotNameIsForNobody) {
  Doorkeeper door(*workbench_, {});
  Request request;
  request.method = "POST";
  request.headers = {{"cookie", "filmwright=" + tokens_[shop::Role::lead]}};
  const auto admitted = door.admit(request, "/api/v1/forgotten");
  ASSERT_TRUE(std::holds_alternative<Response>(admitted));
  EXPECT_EQ(std::get<Response>(admitted).status, 403);
}

TEST_F(AccessMatrix, MetricsAreForTheLeadAndForThisMachine) {
  EXPECT_EQ(ask("GET", "/metrics", "", "192.0.2.7"), 401);
  EXPECT_EQ(ask("GET", "/metrics", "", "127.0.0.1"), 200);
  EXPECT_EQ(ask("GET", "/metrics", "filmwright=" + tokens_[shop::Role::lead]), 200);
}

TEST_F(AccessMatrix, SigningOutEndsTheSessionEverywhere) {
  const std::string cookie = "filmwright=" + tokens_[shop::Role::desk];
  EXPECT_EQ(ask("GET", "/api/v1/people", cookie), 200);
  EXPECT_EQ(ask("DELETE", "/api/v1/session", cookie), 200);
  EXPECT_EQ(ask("GET", "/api/v1/people", cookie), 401);
}

TEST_F(AccessMatrix, WhoIsSwitchedOffIsOutAtOnce) {
  const auto people = workbench::people(*workbench_).value();
  for (const shop::Person& person : people) {
    if (person.role != shop::Role::cutter) continue;
    workbench::PersonChange change;
    change.id = person.id;
    change.revision = person.revision;
    change.active = false;
    ASSERT_TRUE(workbench::change_person(*workbench_, change));
  }
  EXPECT_EQ(ask("GET", "/api/v1/jobs", "filmwright=" + tokens_[shop::Role::cutter]), 401);
  EXPECT_FALSE(workbench::sign_in(*workbench_, "cutter", kPassword));
}

// The description of the API names every route under /api/v1.
TEST_F(AccessMatrix, EveryRouteIsDescribed) {
  std::ifstream file(FILM_SOURCE_DIR "/docs/formats/openapi.yaml");
  std::set<std::pair<std::string, std::string>> described;
  std::string path;
  for (std::string line; std::getline(file, line);) {
    std::smatch found;
    if (std::regex_match(line, found, std::regex(R"(  (/\S*):)"))) path = found[1];
    if (std::regex_match(line, found, std::regex(R"(    (get|post|put|delete):)"))) {
      std::string method = found[1];
      for (char& c : method) c = static_cast<char>(c - 'a' + 'A');
      described.emplace(method, "/api/v1" + path);
    }
  }
  for (const auto& [method, pattern] : api_->routes()) {
    if (pattern.rfind("/api/v1/", 0) != 0 || pattern == "/api/v1/openapi.yaml" ||
        pattern == "/api/v1/reference") {
      continue;
    }
    // one description for the forms of the file
    const std::string told =
        std::regex_replace(pattern, std::regex(R"(/cut\.\w+$)"), "/cut.{form}");
    EXPECT_TRUE(described.contains({method, told})) << method << " " << pattern;
  }
}

}  // namespace
}  // namespace film::server
