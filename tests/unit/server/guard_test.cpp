#include "server/guard.h"

#include <gtest/gtest.h>

namespace film::server {
namespace {

using Headers = std::vector<std::pair<std::string, std::string>>;

int refused(const std::string& method, Headers headers, const std::string& body = "") {
  const auto refusal = refuse_stranger({method, "/api/v1/jobs", std::move(headers), body}, {});
  return refusal ? refusal->status : 0;
}

TEST(Guard, OnlyLoopbackNamesAreAnswered) {
  for (const char* host : {"127.0.0.1:8750", "127.0.0.1", "localhost:8750", "[::1]:8750"}) {
    EXPECT_EQ(refused("GET", {{"host", host}}), 0) << host;
  }
  for (const char* host : {"shop.example", "127.0.0.1.example:8750", "localhost.example", "",
                           "127.0.0.2x", "[::2]:8750", "0.0.0.0:8750"}) {
    EXPECT_EQ(refused("GET", {{"host", host}}), 403) << host;
  }
  EXPECT_EQ(refused("GET", {}), 403);
  EXPECT_EQ(refused("GET", {{"host", "127.0.0.1"}, {"host", "shop.example"}}), 403);
}

TEST(Guard, ChangesComeFromTheServersOwnPage) {
  const Headers own{{"host", "127.0.0.1:8750"}, {"content-type", "application/json"}};
  const auto with = [&own](const char* name, const char* value) {
    Headers headers = own;
    headers.emplace_back(name, value);
    return refused("POST", headers, "{}");
  };
  EXPECT_EQ(refused("POST", own, "{}"), 0);
  EXPECT_EQ(with("origin", "http://127.0.0.1:8750"), 0);
  EXPECT_EQ(with("sec-fetch-site", "same-origin"), 0);
  EXPECT_EQ(with("origin", "http://shop.example"), 403);
  EXPECT_EQ(with("origin", "http://127.0.0.1:9999"), 403);
  EXPECT_EQ(with("origin", "https://127.0.0.1:8750"), 403);
  EXPECT_EQ(with("origin", "null"), 403);
  EXPECT_EQ(with("sec-fetch-site", "cross-site"), 403);
}

// A form on any page can send these three types without asking first.
// Source: WHATWG Fetch, "CORS-safelisted request-header".
TEST(Guard, AChangeIsSentAsJson) {
  for (const char* type : {"text/plain", "application/x-www-form-urlencoded",
                           "multipart/form-data; boundary=x", "", "application/jsonp"}) {
    EXPECT_EQ(refused("POST", {{"host", "127.0.0.1"}, {"content-type", type}}, "{}"), 415) << type;
  }
  EXPECT_EQ(
      refused("POST", {{"host", "127.0.0.1"}, {"content-type", "application/json; charset=utf-8"}}),
      0);
  EXPECT_EQ(refused("DELETE", {{"host", "127.0.0.1"}}), 0);
}

}  // namespace
}  // namespace film::server
