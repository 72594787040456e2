#include "server/api_page.h"

#include <gtest/gtest.h>

#include "host/files.h"

namespace film::server {
namespace {

TEST(ApiPage, ListsEveryOperationOfTheDescription) {
  const auto yaml = host::read_file(FILM_SOURCE_DIR "/docs/formats/openapi.yaml");
  ASSERT_TRUE(yaml);
  const auto count = [](std::string_view text, std::string_view what) {
    std::size_t found = 0;
    for (std::size_t at = 0; (at = text.find(what, at)) != std::string_view::npos; ++at) ++found;
    return found;
  };
  const std::string page = api_page(*yaml);
  EXPECT_GT(count(page, "<tr><td>"), 50u);
  EXPECT_EQ(count(page, "<tr><td>"), count(*yaml, "      operationId: "));
  EXPECT_NE(page.find("<code>post</code></td><td><code>/jobs/{job}/installed</code>"),
            std::string::npos);
  EXPECT_EQ(page.find("<script"), std::string::npos);
}

TEST(ApiPage, WhatItShowsIsNoMarkup) {
  const std::string page = api_page("paths:\n  /a:\n    get:\n      summary: <b>\"&\n");
  EXPECT_NE(page.find("&lt;b&gt;&quot;&amp;"), std::string::npos);
}

}  // namespace
}  // namespace film::server
