#include "exchange/shop_plan_json.h"

#include <string>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "host/files.h"
#include "host/zones.h"

namespace film::exchange {
namespace {

std::string example() {
  const auto bytes = host::read_file(FILM_SOURCE_DIR "/docs/examples/shop-plan.json");
  return bytes ? *bytes : std::string();
}

Error refusal_of(const nlohmann::json& json) {
  const auto file = read_shop_file(json.dump(), host::find_zone);
  return file ? Error{} : file.error();
}

TEST(ShopPlanJson, TheExampleIsReadWithItsCalendar) {
  const auto file = read_shop_file(example(), host::find_zone);
  ASSERT_TRUE(file) << file.error().message();
  EXPECT_EQ(file->jobs.size(), 2u);
  ASSERT_TRUE(file->urgent);
  const planning::Shop& shop = file->shop;
  EXPECT_EQ(planning::when(shop, file->jobs[0].arrives), "Mon 06-01 08:00");
  EXPECT_EQ(file->jobs[0].arrives, 8 * 12);
  const planning::WorkLine& hours = shop.people[0].hours;
  EXPECT_EQ(hours.work_between(0, 288), 8 * 12);       // Monday
  EXPECT_EQ(hours.work_between(3 * 288, 4 * 288), 0);  // Thursday, a holiday
  EXPECT_EQ(hours.work_between(7 * 288, 9 * 288), 0);  // away
  EXPECT_EQ(file->jobs[0].tasks.front().id, "wash");
  EXPECT_FALSE(planning::fault_of(shop, file->jobs, 0));
}

TEST(ShopPlanJson, FaultsSayWhere) {
  const auto json = nlohmann::json::parse(example());
  auto changed = json;
  changed["people"][1]["week"]["tue"][0]["until"] = "08:00";
  EXPECT_EQ(refusal_of(changed).where, "people[1], Tivek, Tuesday");
  EXPECT_EQ(refusal_of(changed).what, "the shift at 08:00 has no length");
  changed = json;
  changed["zone"] = "Nowhere/Atoll";
  EXPECT_EQ(refusal_of(changed).code, ErrorCode::not_found);
  changed = json;
  changed["jobs"][0]["arrives"] = "2026-02-30T08:00";
  EXPECT_EQ(refusal_of(changed).where, "jobs[0].arrives");
  changed = json;
  changed["bays"][0]["features"] = {"gilded"};
  EXPECT_EQ(refusal_of(changed).what, "\"gilded\" is not in the list");
  changed = json;
  changed.erase("skills");
  EXPECT_EQ(refusal_of(changed).what, "the field \"skills\" is missing");
  EXPECT_FALSE(read_shop_file("{", host::find_zone));
  EXPECT_FALSE(read_shop_file("[]", host::find_zone));
}

}  // namespace
}  // namespace film::exchange
