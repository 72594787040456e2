// A scripted list of attacks on the API; every one is refused and leaves the book as it was.

#include <algorithm>
#include <cctype>
#include <set>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "server/api.h"
#include "workbench/browse.h"
#include "workbench/customers.h"
#include "workbench/people.h"
#include "workbench/price_list.h"
#include "workbench/price_offer.h"
#include "workbench/quote_work.h"
#include "workbench/seed_demo.h"
#include "workbench/share_job.h"
#include "workbench/sign_in.h"

namespace film::server {
namespace {

using nlohmann::json;
using Headers = std::vector<std::pair<std::string, std::string>>;

constexpr const char* kPassword = "a lantern under nine hats";

class Attacks : public testing::Test {
 protected:
  Attacks() : workbench_(std::move(*workbench::workbench_in_memory())) {
    shop::Settings settings;
    settings.name = "Example shop";
    EXPECT_TRUE(workbench::make_owner(*workbench_, settings,
                                      {"The lead", "lead", shop::Role::lead, kPassword}));
    token_ = workbench::sign_in_unasked(*workbench_, "U-0001").value().token;
    api_ = std::make_unique<Api>(*workbench_, std::vector<EmbeddedFile>{}, Api::Options{});
  }

  Response ask(const std::string& method, const std::string& target, const std::string& body,
               Headers headers) {
    Request request{method, target, std::move(headers), body, "192.0.2.7"};
    return api_->answer(request);
  }

  /// Headers of the server's own page with the lead's session.
  [[nodiscard]] Headers own() const {
    return {{"host", "127.0.0.1:8750"},
            {"origin", "http://127.0.0.1:8750"},
            {"content-type", "application/json"},
            {"cookie", "filmwright=" + token_}};
  }

  [[nodiscard]] Headers with(const std::string& name, const std::string& value) const {
    Headers headers = own();
    std::erase_if(headers, [&](const auto& header) { return header.first == name; });
    if (!value.empty()) headers.emplace_back(name, value);
    return headers;
  }

  std::unique_ptr<workbench::Workbench> workbench_;
  std::string token_;
  std::unique_ptr<Api> api_;
};

TEST_F(Attacks, PathsThatLeaveTheirPlace) {
  for (const char* path :
       {"/../../etc/passwd", "/..%2f..%2fetc/passwd", "/%2e%2e/%2e%2e/etc/passwd",
        "/api/v1/jobs/..%2f..%2fbook.db", "/api/v1/jobs/..", "/api/v1/photos/..%5c..%5cbook.db",
        "/api/v1/jobs/a%00b", "/api/v1/shared/../people", "http://shop.example/api/v1/people"}) {
    const int status = ask("GET", path, "", own()).status;
    EXPECT_GE(status, 400) << path;
    EXPECT_LT(status, 500) << path;
  }
}

TEST_F(Attacks, ChangesFromOtherSites) {
  const std::string order = R"({"name": "Forged"})";
  const auto tried = [&](const Headers& headers) {
    return ask("POST", "/api/v1/customers", order, headers).status;
  };
  EXPECT_EQ(tried(with("origin", "http://shop.example")), 403);
  EXPECT_EQ(tried(with("origin", "null")), 403);
  EXPECT_EQ(tried(with("origin", "http://127.0.0.1:8750.shop.example")), 403);
  EXPECT_EQ(tried(with("origin", "")), 403);  // a session without a word of where it comes from
  EXPECT_EQ(tried(with("host", "shop.example")), 403);
  for (const char* type :
       {"text/plain", "application/x-www-form-urlencoded", "multipart/form-data"}) {
    EXPECT_EQ(tried(with("content-type", type)), 415) << type;
  }
  Headers crossing = own();
  crossing.emplace_back("sec-fetch-site", "cross-site");
  EXPECT_EQ(tried(crossing), 403);
  Headers twice = own();
  twice.emplace_back("host", "shop.example");
  EXPECT_EQ(tried(twice), 403);
  EXPECT_TRUE(workbench::customers(*workbench_, "")->empty());
  EXPECT_EQ(tried(own()), 201);  // and the page itself still may
}

TEST_F(Attacks, SessionsThatWereNotGiven) {
  for (const std::string& token :
       {std::string("0"), std::string(43, 'A'), token_.substr(0, 42), token_ + "A",
        std::string("' OR '1'='1"), std::string("../U-0001"), std::string(100000, 'x')}) {
    EXPECT_EQ(ask("GET", "/api/v1/people", "", with("cookie", "filmwright=" + token)).status, 401);
  }
  // A session that someone else fixed beforehand is not taken over at sign-in.
  const Response answer =
      ask("POST", "/api/v1/session", json{{"sign_in", "lead"}, {"password", kPassword}}.dump(),
          with("cookie", "filmwright=fixed-beforehand"));
  ASSERT_EQ(answer.status, 200) << answer.body;
  std::string cookie;
  for (const auto& [name, value] : answer.headers) {
    if (name == "Set-Cookie") cookie = value;
  }
  EXPECT_EQ(cookie.find("fixed"), std::string::npos);
  EXPECT_NE(cookie.find("; HttpOnly; SameSite=Strict"), std::string::npos) << cookie;
  EXPECT_EQ(ask("GET", "/api/v1/people", "", with("cookie", "filmwright=fixed-beforehand")).status,
            401);
}

TEST_F(Attacks, GuessingPasswordsIsSlowedDown) {
  int refused = 0;
  int throttled = 0;
  for (int i = 0; i < 12; ++i) {
    const Response answer = ask("POST", "/api/v1/session",
                                json{{"sign_in", "lead"}, {"password", "guess"}}.dump(), own());
    refused += answer.status == 401;
    throttled += answer.status == 429;
  }
  EXPECT_GE(refused, 5);
  EXPECT_GE(throttled, 1);
  // the right password must wait as well, or the wait would tell it
  EXPECT_EQ(ask("POST", "/api/v1/session",
                json{{"sign_in", "lead"}, {"password", kPassword}}.dump(), own())
                .status,
            429);
}

TEST_F(Attacks, UnknownNamesAndWrongPasswordsGetTheSameAnswer) {
  const auto told = [&](const char* name) {
    return ask("POST", "/api/v1/session", json{{"sign_in", name}, {"password", "guess"}}.dump(),
               own())
        .body;
  };
  EXPECT_EQ(told("lead"), told("nobody"));
}

TEST_F(Attacks, AnOwnerIsNotMadeTwice) {
  const json order{{"token", std::string(43, 'A')}, {"shop", "Theirs"}, {"currency", "EUR"},
                   {"length_unit", "mm"},           {"name", "Theirs"}, {"sign_in", "theirs"},
                   {"password", kPassword}};
  EXPECT_EQ(ask("POST", "/api/v1/first-start", order.dump(), own()).status, 403);
  EXPECT_EQ(workbench::people(*workbench_)->size(), 1u);
}

/// Plates are kept in capitals; a reason to doubt a VIN goes where there is none.
std::string kept(const std::string& field, std::string text) {
  if (field == "vin_reason") return "";
  if (field == "plate") std::transform(text.begin(), text.end(), text.begin(), ::toupper);
  return text;
}

// Text is kept as it is or refused; it is never run, and it comes back as JSON, not as a page.
TEST_F(Attacks, SqlAndHtmlInEveryTextField) {
  const std::vector<std::string> poisons{"'); DROP TABLE customers; --",
                                         "' OR '1'='1",
                                         "<script>alert(1)</script>",
                                         "\"><img src=x onerror=a()>",
                                         "%s%n:name $1 ?1",
                                         "{{7*7}}",
                                         "../../x"};
  const auto poisoned = [&](const std::string& target, json order, const std::string& field,
                            const std::string& poison) {
    order[field] = poison;
    const Response answer = ask("POST", target, order.dump(), own());
    EXPECT_LT(answer.status, 500) << target << " " << field << " " << poison << " " << answer.body;
    std::string type;
    for (const auto& [name, value] : answer.headers) {
      if (name == "Content-Type") type = value;
    }
    EXPECT_NE(type.find("json"), std::string::npos);
    if (answer.status == 201 && json::parse(answer.body).contains(field)) {
      EXPECT_EQ(json::parse(answer.body).at(field), kept(field, poison)) << target << " " << field;
    }
  };
  const json customer{{"name", "A"}, {"phone", ""}, {"email", ""}, {"address", ""}};
  const json vehicle{{"plate", ""}, {"vin", ""}, {"vin_reason", ""}, {"note", ""}, {"model", ""}};
  const json person{{"name", "A"}, {"sign_in", "someone"}, {"role", "desk"}, {"password", ""}};
  ASSERT_EQ(ask("POST", "/api/v1/customers", customer.dump(), own()).status, 201);
  for (const std::string& poison : poisons) {
    for (const auto& [field, value] : customer.items()) {
      poisoned("/api/v1/customers", customer, field, poison);
    }
    for (const auto& [field, value] : vehicle.items()) {
      poisoned("/api/v1/customers/K-0001/vehicles", vehicle, field, poison);
    }
    for (const auto& [field, value] : person.items()) {
      poisoned("/api/v1/people", person, field, poison);
    }
    EXPECT_LT(ask("GET", "/api/v1/customers?start=%27%3B--", "", own()).status, 300);
  }
  EXPECT_GE(workbench::customers(*workbench_, "")->size(), 1u);  // the table is still there
  EXPECT_EQ(ask("GET", "/api/v1/audit?record=%27%20OR%201%3D1", "", own()).body, R"({"lines":[]})");
}

TEST_F(Attacks, OddBodies) {
  std::string deep;
  for (int i = 0; i < 100000; ++i) deep += '[';
  for (const std::string& body :
       {std::string("{"), std::string("[]"), std::string("null"), std::string("{\"name\": 1}"),
        std::string("{\"name\": \"a\\u0000b\"}"), std::string("{\"name\": \"\xff\xfe\"}"), deep,
        "{\"name\": \"" + std::string(100000, 'x') + "\"}",
        std::string("{\"name\": \"a\", \"revision\": 1e400}"),
        std::string("{\"name\": \"a\", \"admin\": true}")}) {
    const int status = ask("POST", "/api/v1/customers", body, own()).status;
    EXPECT_EQ(status, 400) << body.substr(0, 60);
  }
}

TEST_F(Attacks, ASharedLinkOpensOneJobForReadingAndNothingElse) {
  for (const char* token : {"guessed", "L-0001", "'%20OR%20'1'='1", "00"}) {
    EXPECT_EQ(ask("GET", std::string("/api/v1/shared/") + token, "", with("cookie", "")).status,
              404)
        << token;
  }
  EXPECT_EQ(ask("POST", "/api/v1/shared/x", "{}", own()).status, 405);
}

/// What a link shows: each field by its name, and nothing else.
TEST_F(Attacks, ASharedLinkTellsNeitherCostNorMarginNorPeople) {
  api_.reset();
  workbench_ = std::move(*workbench::workbench_in_memory());
  ASSERT_TRUE(workbench::seed_demo(*workbench_));
  api_ = std::make_unique<Api>(*workbench_, std::vector<EmbeddedFile>{}, Api::Options{});
  const auto list = workbench::price_list(*workbench_);
  ASSERT_TRUE(list);
  workbench::QuoteDraft draft;
  draft.title = "Full front";
  draft.customer = "A. Nobody";
  draft.vehicle = workbench::vehicles(*workbench_)->front().id;
  const auto proposals = workbench::propose_all(*workbench_, draft.vehicle, list->looks.front().id);
  ASSERT_TRUE(proposals);
  for (const auto& proposal : *proposals) {
    if (proposal.film.empty()) continue;
    draft.offers = {{"As it is", "", "", {{proposal.panel, proposal.film}}, false, {}}};
    break;
  }
  const auto quote = workbench::draft_quote(*workbench_, draft, {});
  ASSERT_TRUE(quote) << quote.error().message();
  ASSERT_TRUE(workbench::send_quote(*workbench_, {quote->id, 0}));
  const auto job = workbench::accept_quote(*workbench_, {quote->id, 0}, 0, "A. Nobody", "desk");
  ASSERT_TRUE(job);
  const auto link = workbench::share_job(*workbench_, job->job.id, 30, "The lead");
  ASSERT_TRUE(link);
  const std::string target = "/api/v1/shared/" + link->token;
  const Response answer = ask("GET", target, "", with("cookie", ""));
  ASSERT_EQ(answer.status, 200) << answer.body;
  std::set<std::string> fields;
  for (const auto& [name, value] : json::parse(answer.body).items()) fields.insert(name);
  EXPECT_EQ(fields,
            (std::set<std::string>{"shop", "title", "vehicle", "state", "covered", "quote"}));
  for (const auto& covered : json::parse(answer.body).at("covered")) {
    EXPECT_EQ(covered.size(), 2u);  // panel and film
  }
  for (const char* word : {"cost", "margin", "thin", "The lead", "A. Nobody"}) {
    EXPECT_EQ(answer.body.find(word), std::string::npos) << word;
  }
  const Response paper = ask("GET", target + "/quote.pdf", "", with("cookie", ""));
  EXPECT_EQ(paper.status, 200);
  EXPECT_EQ(paper.body.substr(0, 5), "%PDF-");
  // The token opens this job's quote and no other record.
  EXPECT_GE(ask("GET", target + "/../../quotes", "", with("cookie", "")).status, 400);
  EXPECT_EQ(ask("GET", target + "/quote.pdf?version=1", "", with("cookie", "")).status, 400);
  EXPECT_EQ(ask("GET", "/api/v1/shared/guessed/quote.pdf", "", with("cookie", "")).status, 404);
  ASSERT_TRUE(workbench::revoke_link(*workbench_, job->job.id, link->link.id));
  EXPECT_EQ(ask("GET", target + "/quote.pdf", "", with("cookie", "")).status, 404);
}

// Parameters of queries: numbers, states and texts are what they say or refused, and never SQL.
TEST_F(Attacks, OddParameters) {
  for (const char* target :
       {"/api/v1/jobs?most=0", "/api/v1/jobs?most=201", "/api/v1/jobs?most=-1",
        "/api/v1/jobs?most=1e2", "/api/v1/jobs?most=99999999999999999999", "/api/v1/jobs?state=all",
        "/api/v1/jobs?state=scoped%27%20OR%201=1", "/api/v1/jobs?before=a&before=b",
        "/api/v1/jobs?order=id", "/api/v1/quotes/Q-0001?version=0",
        "/api/v1/quotes/Q-0001/paper.pdf?version=1.5", "/api/v1/quotes/Q-0001/paper.pdf?paper=a0",
        "/api/v1/lots?lot=x&after=-1", "/api/v1/search", "/api/v1/search?q=&from=yesterday"}) {
    EXPECT_EQ(ask("GET", target, "", own()).status, 400) << target;
  }
  EXPECT_EQ(ask("GET", "/api/v1/jobs?q=" + std::string(481, 'x'), "", own()).status, 400);
  EXPECT_EQ(ask("GET", "/api/v1/jobs?before=J-9999", "", own()).status, 404);
  for (const char* poison : {"%27%3B%20DROP%20TABLE%20jobs%3B%20--", "%25", "_", "%21", "%00"}) {
    for (const std::string& target :
         {std::string("/api/v1/jobs?q="), std::string("/api/v1/search?q="),
          std::string("/api/v1/customers?start=")}) {
      const int status = ask("GET", target + poison, "", own()).status;
      EXPECT_TRUE(status == 200 || status == 400) << target << poison << " " << status;
    }
  }
  EXPECT_EQ(ask("GET", "/api/v1/jobs", "", own()).body, R"({"jobs":[],"next":""})");
}

// Amounts, shares and texts of the routes that price and recut.
TEST_F(Attacks, FieldsOutOfTheirRange) {
  const auto refused = [&](const char* target, const std::string& body) {
    EXPECT_EQ(ask("POST", target, body, own()).status, 400) << target << " " << body;
  };
  for (const char* part :
       {R"("discount": -1)", R"("discount": 1000001)", R"("discount": 0.5)", R"("discount": "5")",
        R"("discount_amount": -1)", R"("discount_amount": 1.5)", R"("discount_amount": true)",
        R"("discount_amount": 9000000000000001)", R"("coating": 1)", R"("installer": 7)",
        R"("scope": [{"panel": "a"}])", R"("scope": [{"panel": "a", "film": "b", "more": 1}])"}) {
    const std::string scope =
        std::string(part).find("scope") == std::string::npos ? R"("scope": [], )" : std::string();
    refused("/api/v1/offers/price", R"({"vehicle": "x", )" + scope + part + "}");
  }
  for (const char* body :
       {R"({})", R"({"reason": "because"})", R"({"reason": 3})",
        R"({"reason": "lifted", "keep_rests": "yes"})", R"({"reason": "lifted", "piece": "x"})",
        R"({"reason": "lifted", "note": 5})"}) {
    refused("/api/v1/claims/K-0001/recuts", body);
  }
  refused("/api/v1/claims/K-0001/recuts",
          R"({"reason": "lifted", "note": ")" + std::string(100000, 'x') + R"("})");
  EXPECT_EQ(ask("POST", "/api/v1/claims/K-0001/recuts", R"({"reason": "lifted"})", own()).status,
            404);
}

TEST_F(Attacks, EveryAnswerKeepsOthersOut) {
  const Response answer = ask("GET", "/api/v1/people", "", own());
  const auto has = [&](const std::string& name, const std::string& part) {
    for (const auto& [key, value] : answer.headers) {
      if (key == name && value.find(part) != std::string::npos) return true;
    }
    return false;
  };
  EXPECT_TRUE(has("Content-Security-Policy", "frame-ancestors 'none'"));
  EXPECT_TRUE(has("Content-Security-Policy", "script-src 'self'"));
  EXPECT_TRUE(has("X-Content-Type-Options", "nosniff"));
  EXPECT_TRUE(has("X-Frame-Options", "DENY"));
  EXPECT_TRUE(has("Referrer-Policy", "no-referrer"));
  EXPECT_TRUE(has("Cache-Control", "no-store"));
}

}  // namespace
}  // namespace film::server
