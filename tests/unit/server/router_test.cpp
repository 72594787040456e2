#include "server/router.h"

#include <algorithm>

#include <gtest/gtest.h>

namespace film::server {
namespace {

Request get(std::string target) { return {"GET", std::move(target), {}, ""}; }

/// Everyone may do everything.
std::variant<Caller, Response> welcome(const Request&, std::string_view) { return Caller{}; }

Response told(const std::string& text) {
  Response response;
  response.body = text;
  return response;
}

Router router() {
  Router r;
  r.get("/jobs/{job}", [](const Call& call) { return told("job " + call["job"]); });
  r.get("/jobs/{job}/cut", {"film"},
        [](const Call& call) { return told("cut " + call["job"] + " " + call.parameter("film")); });
  r.post("/jobs/{job}/cut", [](const Call&) { return told("plan"); });
  r.get("/jobs/{job}/papers/{paper}.pdf", [](const Call& call) { return told(call["paper"]); });
  r.get("/jobs/new", [](const Call&) { return told("new"); });
  return r;
}

TEST(Router, FindsRoutesWithNames) {
  EXPECT_EQ(router().answer(get("/jobs/J-1"), welcome).body, "job J-1");
  EXPECT_EQ(router().answer(get("/jobs/J-1/cut?film=a%20b"), welcome).body, "cut J-1 a b");
  EXPECT_EQ(router().answer(get("/jobs/J-1/papers/work-order.pdf"), welcome).body, "work-order");
}

TEST(Router, AFixedRouteGoesBeforeAnOpenOne) {
  EXPECT_EQ(router().answer(get("/jobs/new"), welcome).body, "new");
}

TEST(Router, UnknownPlacesMethodsAndParametersAreProblems) {
  EXPECT_EQ(router().answer(get("/nowhere"), welcome).status, 404);
  EXPECT_EQ(router().answer(get("/jobs"), welcome).status, 404);
  EXPECT_EQ(router().answer(get("/jobs/J-1/papers/.pdf"), welcome).status, 404);
  EXPECT_EQ(router().answer(get("/jobs/J-1?x=1"), welcome).status, 400);
  EXPECT_EQ(router().answer(get("/jobs/J-1/cut?film=a&film=b"), welcome).status, 400);
  const Response refused = router().answer({"DELETE", "/jobs/J-1/cut", {}, ""}, welcome);
  EXPECT_EQ(refused.status, 405);
  const std::pair<std::string, std::string> allow{"Allow", "GET, POST"};
  EXPECT_NE(std::find(refused.headers.begin(), refused.headers.end(), allow),
            refused.headers.end());
}

TEST(Router, WhoIsNotAdmittedReachesNoAction) {
  bool reached = false;
  Router r;
  r.get("/jobs/{job}", [&reached](const Call&) {
    reached = true;
    return told("");
  });
  std::string asked;
  const auto refuse = [&asked](const Request&, std::string_view pattern) {
    asked = pattern;
    Response response;
    response.status = 403;
    return std::variant<Caller, Response>(std::move(response));
  };
  EXPECT_EQ(r.answer(get("/jobs/J-1"), refuse).status, 403);
  EXPECT_EQ(asked, "/jobs/{job}");
  EXPECT_FALSE(reached);
}

TEST(Router, PathsThatTryToLeaveAreRefused) {
  for (const char* path :
       {"/jobs/..", "/jobs/%2e%2e", "/jobs/%2E%2e/x", "/jobs/a%2fb", "/jobs/a%5cb", "/jobs/a%00b",
        "/jobs/.", "/jobs/%", "/jobs/%zz", "", "http://elsewhere/"}) {
    EXPECT_EQ(router().answer(get(path), welcome).status, 400) << path;
  }
}

}  // namespace
}  // namespace film::server
