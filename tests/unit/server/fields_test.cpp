#include "server/fields.h"

#include <gtest/gtest.h>

namespace film::server {
namespace {

TEST(Fields, ReadsWhatIsThere) {
  const Json body = body_of(R"({"title":"Hood","seconds":2.5,"seed":7,"items":[1,2]})").value();
  Fields fields(body, "");
  EXPECT_EQ(fields.text("title", 10), "Hood");
  EXPECT_EQ(fields.number_or("seconds", 0, 10, 1), 2.5);
  EXPECT_EQ(fields.integer_or("seed", 0, 10, 1), 7);
  EXPECT_EQ(fields.integer_or("threads", 1, 4, 3), 3);
  EXPECT_EQ(fields.array("items", 1, 2).size(), 2u);
  EXPECT_TRUE(fields.done());
}

TEST(Fields, TheFirstFaultIsToldWithItsPlace) {
  const Json body = body_of(R"({"title":5,"seconds":"x"})").value();
  Fields fields(body, "scope[2].");
  EXPECT_EQ(fields.text("title", 10), "");
  fields.number_or("seconds", 0, 10, 1);
  ASSERT_FALSE(fields.done());
  EXPECT_EQ(fields.done().error().where, "scope[2].title");
}

TEST(Fields, UnknownMissingAndMisfittingFieldsAreRefused) {
  const auto fault = [](const char* text) {
    const Json body = body_of(text).value();
    Fields fields(body, "");
    fields.text("title", 4);
    fields.integer_or("n", 0, 5, 0);
    fields.number_or("x", 0, 1, 0);
    return fields.done() ? "" : fields.done().error().where;
  };
  EXPECT_EQ(fault(R"({"title":"abcd"})"), "");
  EXPECT_EQ(fault(R"({"title":"abcd","more":1})"), "more");
  EXPECT_EQ(fault(R"({})"), "title");
  EXPECT_EQ(fault(R"({"title":"abcde"})"), "title");
  EXPECT_EQ(fault(R"({"title":"a\u0000b"})"), "title");
  EXPECT_EQ(fault(R"({"title":"a","n":1.5})"), "n");
  EXPECT_EQ(fault(R"({"title":"a","n":18446744073709551615})"), "n");
  EXPECT_EQ(fault(R"({"title":"a","n":-1})"), "n");
  EXPECT_EQ(fault(R"({"title":"a","x":1.5})"), "x");
}

TEST(Fields, ABodyIsOneObject) {
  EXPECT_TRUE(body_of(""));
  for (const char* text :
       {"[]", "5", "{", "{}{}", "{\"a\":NaN}", "{\"a\":1e999}", "\xff", "{\"a\":\"\xff\"}"}) {
    EXPECT_FALSE(body_of(text)) << text;
  }
  EXPECT_FALSE(body_of(std::string(100000, '[')));
}

}  // namespace
}  // namespace film::server
